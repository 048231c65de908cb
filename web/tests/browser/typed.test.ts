import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { launch, open, settle, signIn } from './open'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

it('what was typed outlives a reload and a session that ended, and is nobody else’s', async () => {
  const { context, page, faults } = await open(browser, { size: 'phone' })
  await signIn(page, 'surveyor')
  await page.goto('/engagements/new')
  await page.getByLabel('Why').fill('The keel weeps since the spring, and the insurer asks.')
  await page.getByLabel('How to reach them').fill('555 0123')

  await page.reload()
  await settle(page)
  expect(await page.getByLabel('Why').inputValue()).toBe('The keel weeps since the spring, and the insurer asks.')

  // The session ends while the call goes on, which the look for who asks finds out; the way
  // back in leads to the same words.
  await context.clearCookies()
  await page.getByLabel('Who asks').fill('A. Newcomer')
  await page.waitForURL('**/sign-in?**')
  await signIn(page, 'surveyor')
  await page.goto('/engagements/new')
  expect(await page.getByLabel('Why').inputValue()).toBe('The keel weeps since the spring, and the insurer asks.')
  expect(await page.getByLabel('How to reach them').inputValue()).toBe('555 0123')

  await context.clearCookies()
  await signIn(page, 'office')
  await page.goto('/engagements/new')
  await settle(page)
  expect(await page.getByLabel('Why').inputValue()).toBe('')
  expect(faults).toEqual([])
  await context.close()
})

it('what was kept is not offered again', async () => {
  const { context, page } = await open(browser)
  await signIn(page, 'office')
  await page.goto('/engagements/new')
  await page.getByLabel('Who asks').fill('B. Newcomer')
  await page.getByLabel('Why').fill('A new engine is due.')
  await page.getByRole('button', { name: 'Keep the enquiry' }).click()
  await page.waitForURL('**/engagements/eng_**')
  await page.goto('/engagements/new')
  await settle(page)
  expect(await page.getByLabel('Why').inputValue()).toBe('')
  await context.close()
})
