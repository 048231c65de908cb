import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { launch, mailTo, open, settle, signIn } from './open'

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
  const token = /\/invitation\/([\w-]{43})/.exec((await mailTo(office.context, email)).body)?.[1] ?? ''
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

  // Later the roles change, and one day he has left: his session ends with that.
  const member = office.page.getByRole('listitem').filter({ hasText: `D. Lugg ${once}` })
  await office.page.goto('/people')
  await member.getByRole('button', { name: /^Change/ }).click()
  const dialog = office.page.getByRole('dialog')
  await dialog.getByLabel('Qualification').fill('boatbuilder, learning')
  await dialog.getByText('surveyor', { exact: true }).click()
  await dialog.getByText('trainee', { exact: true }).click()
  await dialog.getByRole('button', { name: 'Write down' }).click()
  await dialog.getByText('Everybody has a role at least').waitFor()
  await dialog.getByText('trainee', { exact: true }).click()
  await dialog.getByRole('button', { name: 'Write down' }).click()
  await dialog.waitFor({ state: 'detached' })
  await member.getByText('boatbuilder, learning', { exact: false }).waitFor()
  await member.getByText('trainee', { exact: true }).waitFor()
  await member.getByRole('button', { name: /^Change/ }).click()
  await dialog.getByText('Has left the practice').click()
  await dialog.getByText('sign-ins and keys end', { exact: false }).waitFor()
  await dialog.getByRole('button', { name: 'Write down' }).click()
  await dialog.waitFor({ state: 'detached' })
  await member.getByText(/^left /).waitFor()

  const gone = await open(browser)
  await gone.page.goto('/sign-in')
  await gone.page.getByLabel('E-mail').fill(email)
  await gone.page.getByLabel('Password').fill('three herons on a mudbank')
  await gone.page.getByRole('button', { name: 'Sign in' }).click()
  await gone.page.getByRole('alert').waitFor()
  expect(gone.page.url()).toContain('/sign-in')
  expect(faults).toEqual([])
  for (const each of [office, { context }, later, gone]) await each.context.close()
})
