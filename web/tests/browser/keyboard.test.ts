import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/model/id'
import { launch, open, settle, signIn } from './open'
import { send } from './program'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

const slow = { timeout: 20_000 }
const named = (page: Page) =>
  page.evaluate(() => {
    const one = document.activeElement === document.body ? null : document.activeElement
    const label = one instanceof HTMLInputElement ? one.labels?.[0]?.textContent : ''
    return (one?.getAttribute('aria-label') || label || one?.textContent || '').trim()
  })

/** Goes on with the Tab key until something of this name has the focus. */
async function tabTo(page: Page, name: RegExp) {
  for (let k = 0; k < 120; k++) {
    if (name.test(await named(page))) return
    await page.keyboard.press('Tab')
  }
  throw new Error(`the Tab key never came to ${name}`)
}

describe('a sheet', () => {
  it('keeps the focus when the control that had it goes, or is shut for a while', async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'office')
    await page.goto('/people')
    await settle(page)
    const opens = page.getByRole('button', { name: 'Add one' })
    await opens.press('Enter')
    const sheet = page.getByRole('dialog')
    const keep = sheet.getByRole('button', { name: 'Add', exact: true })
    const focused = () => page.evaluate(() => document.activeElement?.closest('[role=dialog]') !== null)

    // Shut while it is sent, as every sheet’s button is: the sheet has it meanwhile, then the button again.
    await keep.focus()
    await keep.evaluate((button: HTMLButtonElement) => {
      button.disabled = true
    })
    await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('role')), slow).toBe('dialog')
    await keep.evaluate((button: HTMLButtonElement) => {
      button.disabled = false
    })
    await expect.poll(() => named(page), slow).toBe('Add')

    // Gone: what comes after it in the sheet has it, and Escape is still heard.
    const name = sheet.getByLabel('Name')
    await name.focus()
    const next = await page.evaluate(() => {
      const all = [...document.querySelectorAll<HTMLElement>('[role=dialog] :is(button, input, select, textarea)')]
      return all[all.indexOf(document.activeElement as HTMLElement) + 1]?.id
    })
    await name.evaluate((field) => field.remove())
    await expect.poll(focused, slow).toBe(true)
    expect(await page.evaluate(() => document.activeElement?.id)).toBe(next)
    await page.keyboard.press('Escape')
    await sheet.waitFor({ state: 'detached' })
    await expect.poll(() => named(page), slow).toBe('Add one')
    expect(faults).toEqual([])
    await context.close()
  })
})

describe('by the keyboard alone', () => {
  it('a practice goes from the half hour to a kit that is kept', { timeout: 240_000 }, async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'principal')
    const meter = { id: newId('ins'), scale: newId('scl'), name: `Skerrow trial ${Date.now().toString(36)}` }
    await send(context, 'addInstrument AddInstrumentInput', { id: meter.id, name: meter.name, kind: 'capacitance' })
    await send(context, 'addScale AddScaleInput', {
      id: meter.scale,
      instrument: meter.id,
      name: '0 to 100',
      lowTenths: 0,
      highTenths: 1000,
    })
    await page.goto('/instruments')
    await settle(page)
    await tabTo(page, /half hour/i)
    await page.keyboard.press('Enter')
    await page.waitForURL('**/half-hour')
    await settle(page)
    await tabTo(page, new RegExp(`^${meter.name}$`))
    await tabTo(page, /^Enter a kit$/)
    await page.keyboard.press('Enter')
    await page.waitForURL(`**/instruments/${meter.id}/kit`)
    await settle(page)
    await tabTo(page, /^I\. Varrow$/)
    await page.keyboard.press('Space')
    await tabTo(page, /^spot 1, I\. Varrow, reading 1$/)
    for (let k = 0; k < 30; k++) {
      await page.keyboard.type(`${10 + 3 * Math.floor(k / 3)}.${k % 3}`)
      await page.keyboard.press('Enter')
    }
    await page.getByText('30 of 30 read.').waitFor()
    await page.keyboard.press('Control+s')
    await page.waitForURL(`**/instruments/${meter.id}`)
    await page.getByText('20 re-placements on this scale').waitFor()
    // What the guide asks for next stands in it, and the way to it.
    await page.goto('/instruments/half-hour')
    await settle(page)
    await tabTo(page, new RegExp(`^${meter.name}$`))
    const steps = page.locator('section section, section').filter({ has: page.getByRole('link', { name: meter.name }) })
    expect(await steps.last().textContent()).toContain('20 re-placements')
    expect(faults).toEqual([])
    await context.close()
  })
})
