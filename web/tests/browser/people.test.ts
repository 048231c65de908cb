import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { ask, launch, open, settle, signIn } from './open'
import { violations } from './violations'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

it('somebody new is written down, called otherwise later, and is the owner of a boat', async () => {
  const { context, page, faults } = await open(browser)
  await signIn(page, 'office')
  const name = `T. Boase ${Date.now().toString(36)}`
  await page.goto('/people')
  await page.getByRole('button', { name: 'Add one' }).click()
  await page.getByLabel('Name').fill(name)
  await page.getByLabel('E-mail').fill('boase@post.example')
  await page.getByRole('dialog').getByRole('button', { name: 'Add' }).click()
  await page.getByRole('dialog').waitFor({ state: 'detached' })
  await page.getByRole('searchbox', { name: 'Find a person' }).fill(name)
  await page.getByRole('link', { name }).click()
  await page.waitForURL('**/people/pty_*')
  await page.getByText('Nothing is written down', { exact: false }).waitFor()

  await page.getByRole('button', { name: 'Change', exact: true }).click()
  await page.getByLabel('Telephone').fill('+353 1 555 0199')
  await page.getByRole('button', { name: 'Keep it' }).click()
  await page.getByRole('link', { name: '+353 1 555 0199' }).waitFor()

  await page.getByRole('button', { name: 'Add a part' }).click()
  await page.getByRole('combobox', { name: 'Boat' }).fill('Tamsel')
  await page.getByRole('option', { name: 'Tamsel' }).click()
  await page.getByLabel('Is her').selectOption('seller')
  await page.getByRole('button', { name: 'Write it down' }).click()
  const part = page.getByRole('row').filter({ hasText: 'seller' })
  await part.getByRole('link', { name: 'Tamsel' }).waitFor()

  await settle(page)
  expect(await violations(page, true)).toEqual([])
  expect(faults).toEqual([])
  await context.close()
})

it('a yard’s time zone is asked, not taken from whoever writes it down', async () => {
  const { context, page, faults } = await open(browser)
  await signIn(page, 'office')
  const name = `Zonda Slip ${Date.now().toString(36)}`
  await page.goto('/people')
  await page.getByRole('button', { name: 'Add one' }).click()
  const sheet = page.getByRole('dialog')
  await sheet.getByRole('radio', { name: 'An organisation' }).press('Space')
  await sheet.getByLabel('Name').fill(name)
  await sheet.getByText('A yard: boats stand ashore there').click()
  const zone = sheet.getByRole('combobox', { name: 'Its time zone' })
  expect(await zone.inputValue()).toBe('Europe/Dublin') // the practice's, until another is chosen
  await zone.fill('kiriti')
  await page.getByRole('option', { name: 'Pacific/Kiritimati' }).click()
  await sheet.getByText('There it is', { exact: false }).waitFor()
  await sheet.getByRole('button', { name: 'Add' }).click()
  await sheet.waitFor({ state: 'detached' })
  const { parties } = await ask<{ parties: { edges: { node: { id: string; name: string; timeZone: string } }[] } }>(
    context,
    'HaulOutChoices',
  )
  const yard = parties.edges.find(({ node }) => node.name === name)?.node
  expect(yard?.timeZone).toBe('Pacific/Kiritimati')
  await page.goto(`/yards/${yard?.id}`)
  await page.getByText('times are its own (Kiritimati)').waitFor()
  expect(faults).toEqual([])
  await context.close()
})
