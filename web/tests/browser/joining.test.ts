import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { letter } from './letters'
import { launch, open, settle, signIn } from './open'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

it('a member is invited, reads whose invitation it is, joins, and the letter is used up', async () => {
  const office = await open(browser)
  await signIn(office.page, 'principal')
  const once = Date.now().toString(36)
  const email = `d.lugg.${once}@post.example`
  await office.page.goto('/people')
  await office.page.getByRole('button', { name: 'Invite a member' }).click()
  await office.page.getByLabel('Name').fill(`D. Lugg ${once}`)
  await office.page.getByLabel('E-mail').fill(email)
  await office.page.getByRole('dialog').getByText('trainee').click()
  await office.page.getByRole('dialog').getByRole('button', { name: 'Send the letter' }).click()
  await office.page.getByRole('dialog').waitFor({ state: 'detached' })

  const { context, page, faults } = await open(browser, { size: 'phone' })
  const token = /\/invitation\/([\w-]{43})/.exec(await letter(office.context, email))?.[1] ?? ''
  await page.goto(`/invitation/${token}`)
  await page.getByText('Ebbstone Practice asks you to join as surveyor, trainee.').waitFor()
  await page.getByText(email).waitFor()
  expect(await page.getByLabel('Your name').inputValue()).toBe(`D. Lugg ${once}`)
  await page.getByLabel('Password').fill('three herons on a mudbank')
  await page.getByRole('button', { name: 'Join the practice' }).click()
  await page.waitForURL('**/today')
  await settle(page)

  const later = await open(browser)
  await later.page.goto(`/invitation/${token}`)
  await later.page.getByText('This invitation has been used', { exact: false }).waitFor()
  expect(await later.page.getByRole('textbox').count()).toBe(0)
  expect(faults).toEqual([])
  for (const each of [office, { context }, later]) await each.context.close()
})
