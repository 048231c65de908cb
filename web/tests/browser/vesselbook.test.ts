import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/model/id'
import { ask, launch, open, settle, signIn } from './open'
import { violations } from './violations'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

const gone = (page: Page) => page.getByRole('dialog').waitFor({ state: 'detached' })

async function day(page: Page, label: string, typed: string) {
  await page.getByRole('dialog').getByRole('group', { name: label }).getByRole('spinbutton').first().click()
  await page.keyboard.type(typed)
}

it('a boat of which only the name is known gets her book: identity, what lies behind, her mark, her story', {
  timeout: 240_000,
}, async () => {
  const { context, page, faults } = await open(browser)
  await signIn(page, 'surveyor')
  const vessel = newId('vsl')
  const name = `Curlew Song ${Date.now().toString(36)}`
  await ask(context, 'AddVessel', { input: { mutation: newId('mut'), id: vessel, name } })
  await page.goto(`/vessels/${vessel}`)
  await page.getByText('Not read yet').waitFor()
  await page.getByRole('link', { name: 'Brief' }).click()
  await page.getByText('Nobody is noted as her owner.').waitFor()

  await page.getByRole('button', { name: 'Write what is known' }).click()
  await page.getByLabel('Kind').fill('fin-keel sloop')
  await page.getByLabel('Length over all').fill('ten')
  await page.getByRole('button', { name: 'Keep it' }).click()
  await page.getByText('“ten” is not a number').waitFor()
  await page.getByLabel('Length over all').fill('9,4')
  await page.getByLabel('Water she lies in').selectOption('salt')
  await page.getByRole('button', { name: 'Keep it' }).click()
  await gone(page)
  await page.getByRole('definition').filter({ hasText: '9.4 m' }).first().waitFor()

  // Before she has a figure: a coating over all of her.
  await page.getByRole('button', { name: 'Write what lies where' }).click()
  await page.getByRole('radio', { name: 'A coating' }).click()
  await page.getByLabel('What', { exact: true }).fill('epoxy scheme below the water')
  await page.getByLabel('How that is known').fill('the yard’s papers')
  await page.getByRole('button', { name: 'Write it down' }).click()
  await gone(page)
  await page.getByRole('listitem').filter({ hasText: 'epoxy scheme below the water' }).waitFor()

  await page.getByRole('button', { name: 'Lay out a grid' }).click()
  await page.getByLabel('Beam').fill('3.1')
  await page.getByLabel('Draught').fill('1.6')
  await page.getByLabel('Between stations').fill('5')
  await page.getByText('a baseline needs 6. Set the stations closer.', { exact: false }).waitFor()
  await page.getByLabel('Between stations').fill('1.5')
  await page.getByLabel('Top of the boot-top above the water').fill('0,1')
  await page.getByRole('button', { name: /^Keep \d+ places/ }).click()
  await gone(page)

  await page.getByRole('definition').filter({ hasText: '3.1 m' }).waitFor()

  // Now it is seen where it is drawn; what has no extent is not an area.
  await page.getByRole('button', { name: 'Write what lies where' }).click()
  await page.getByLabel('What', { exact: true }).fill('water tank')
  for (const [label, value] of [
    ['From aft', '3'],
    ['to', '3'],
    ['From above', '0,2'],
    ['to below', '0,8'],
  ] as const)
    await page.getByLabel(label, { exact: true }).fill(value)
  await page.getByRole('button', { name: 'Write it down' }).click()
  await page.getByText('An area is longer than a line', { exact: false }).waitFor()
  await page.getByLabel('to', { exact: true }).fill('4.5')
  await page.getByRole('radio', { name: 'Port' }).click()
  await page.getByRole('button', { name: 'Write it down' }).click()
  await gone(page)
  const tank = page.getByRole('listitem').filter({ hasText: 'water tank' })
  await tank.waitFor()
  expect(await tank.textContent()).toContain('port')

  await page.getByText('ends 100 mm above it').waitFor()
  await page.getByRole('button', { name: 'Name the mark' }).click()
  await page.getByLabel('The mark').fill('moulded line at the stern')
  await page.getByLabel('Top of the boot-top above it').fill('120')
  await page.getByRole('button', { name: 'Keep it' }).click()
  await gone(page)
  await page.getByText('ends 120 mm above it').waitFor()

  await page.getByRole('button', { name: 'Write what happened' }).click()
  await page.getByLabel('What', { exact: true }).fill('underbody peeled')
  await day(page, 'First day it may have been', '01032014')
  await page.getByLabel('As somebody wrote it').fill('winter ’14')
  await page.getByRole('button', { name: 'Write it down' }).click()
  await gone(page)
  await page.getByText('repair: underbody peeled').waitFor()

  await tank.getByRole('button', { name: /^Gone/ }).click()
  await page.getByRole('button', { name: 'Write it down' }).click()
  await gone(page)
  await expect.poll(() => tank.textContent()).toContain('gone')

  await settle(page)
  expect(await violations(page, true)).toEqual([])
  expect(faults).toEqual([])
  await context.close()
})
