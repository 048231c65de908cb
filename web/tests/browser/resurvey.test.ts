import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { largeHull } from './large'
import { ask, launch, open, settle, signIn } from './open'
import { violations } from './violations'

/** A busy machine is slow, and that is no fault. */
const slow = { timeout: 20_000 }

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

/** The resurvey of a vessel of the demo, by her name, with choices in its address. */
async function resurvey(name: string, choices = '', size: 'desk' | 'phone' = 'desk') {
  const all = await open(browser, { size })
  await signIn(all.page, 'surveyor')
  const { vessels } = await ask<{ vessels: { edges: { node: { id: string } }[] } }>(all.context, 'VesselsPage', {
    search: name,
  })
  const id = vessels.edges[0]?.node.id
  if (!id) throw new Error(`the demo has no ${name}`)
  await all.page.goto(`/vessels/${id}${choices}`)
  await settle(all.page)
  return { ...all, id }
}

const sentences = (page: Page) => page.locator('#says li')
const ringed = (page: Page) => page.locator('svg.hull .choice.lit')

describe('the resurvey', () => {
  it('says what changed with its doubt, and rings the places a sentence speaks of', { timeout: 240_000 }, async () => {
    const { context, page, faults } = await resurvey('Tamsel', '?show=change')
    const changed = sentences(page).filter({ hasText: 'area has changed' })
    await changed.getByRole('button').click()
    await expect.poll(() => ringed(page).count(), slow).toBeGreaterThan(0)
    expect(page.url()).toContain('says=')
    // The evidence names the places, and leads to them.
    const first = changed.getByRole('button').nth(1)
    const place = (await first.textContent()) ?? ''
    await first.click()
    await expect.poll(() => page.locator('#place h2').textContent(), slow).toMatch(new RegExp(place, 'i'))
    const panel = await page.locator('#place').textContent()
    expect(panel).toMatch(/changed, (higher|lower)/)
    expect(panel).toMatch(/[+−]\d+\.\d \([+−±]\d+\.\d to [+−±]\d+\.\d\)/)
    expect(panel).toContain('least change shown')
    // The hull and its zones, each with the least change that could have been shown.
    const zones = page.getByRole('table', { name: /^Verdicts by zone/ }).locator('tbody tr')
    expect(await zones.count()).toBeGreaterThan(2)
    expect(await zones.first().textContent()).toMatch(/^the hull at large.*\d\.\d.*\d\.\d/)
    // Nothing on the page is put as the service may not put it.
    expect(await page.locator('main').textContent()).not.toMatch(/sound throughout|free of|dry hull/i)
    expect(await violations(page, true)).toEqual([])
    expect(faults).toEqual([])
    await context.close()
  })

  it('is walked by keyboard: one stop for the places, one for the visits, arrows within', async () => {
    const { context, page } = await resurvey('Tamsel')
    const hull = page.getByRole('listbox')
    expect(await hull.locator('[role=option][tabindex="0"]').count()).toBe(1)
    await hull.locator('[role=option][tabindex="0"]').focus()
    const at = () => page.evaluate(() => document.activeElement?.getAttribute('aria-label') ?? '')
    const from = await at()
    await page.keyboard.press('ArrowLeft')
    const to = await at()
    expect(to).not.toBe(from)
    // The focused place is to be seen, and the Tab key leaves the hull.
    expect(await page.locator('svg.hull .focus').count()).toBe(1)
    await page.keyboard.press('m')
    expect((await at()).split(' ')[0]).not.toBe(to.split(' ')[0])
    await page.keyboard.press('Tab')
    expect(await page.evaluate(() => document.activeElement?.closest('svg.hull') === null)).toBe(true)
    const visits = page.getByRole('region', { name: 'Visits' })
    expect(await visits.locator('button[tabindex="0"]').count()).toBe(1)
    await visits.locator('button[tabindex="0"]').focus()
    await page.keyboard.press('Home')
    await page.keyboard.press('Enter')
    await expect.poll(() => page.url(), slow).toContain('beside=')
    await context.close()
  })

  it('tells the whole story of a place: every reading with its hand, what was found, its photographs', async () => {
    const { context, page, faults } = await resurvey('Tamsel')
    await page.getByRole('option', { name: /^port 6\/2,/ }).click()
    await expect.poll(() => page.locator('#place h2').textContent(), slow).toBe('Port 6/2')
    await page.getByRole('button', { name: /the whole story/ }).click()
    const sheet = page.getByRole('dialog')
    await expect.poll(() => sheet.getByRole('table').count(), slow).toBe(2)
    const told = await sheet.textContent()
    expect(told).toMatch(/weep/)
    expect(told).toMatch(/S\. Maddern/)
    expect(await sheet.getByRole('img').count()).toBeGreaterThan(0)
    expect(await violations(page, true)).toEqual([])
    await page.keyboard.press('Escape')
    await expect.poll(() => page.getByRole('dialog').count(), slow).toBe(0)
    expect(faults).toEqual([])
    await context.close()
  })

  it('says the same in tables as in figures', async () => {
    const { context, page } = await resurvey('Tamsel', '?show=both&table=1')
    expect(await page.getByRole('table', { name: 'Each above its own dry baseline, scale units' }).count()).toBe(1)
    const row = page.locator('#table tbody tr').filter({ hasText: 'starboard 9/3' })
    const drawn = await page
      .getByRole('option', { name: /^starboard 9\/3,/ })
      .last()
      .getAttribute('aria-label')
    const whole = /, (\d+),/.exec(drawn ?? '')?.[1]
    const read = await row.locator('td').nth(2).textContent()
    expect(Math.round(Number(read))).toBe(Number(whole))
    await context.close()
  })

  it('shows a single pass without anything to compare it with, and one with no baseline as bare figures', async () => {
    const single = await resurvey('Bryony Ann')
    expect(await single.page.getByRole('radio').allTextContents()).toHaveLength(2)
    expect(await single.page.getByRole('heading', { name: 'What changed, zone by zone' }).count()).toBe(0)
    expect(await single.page.getByRole('heading', { name: 'What the next visit could show' }).count()).toBe(1)
    expect(await violations(single.page, true)).toEqual([])
    await single.context.close()
    const { context, page } = await resurvey('Sallow')
    await page.getByRole('region', { name: 'Visits' }).getByRole('button').nth(1).click()
    await expect.poll(() => page.getByText('Bare figures:').count(), slow).toBe(1)
    expect(await page.getByRole('option').first().getAttribute('aria-label')).not.toMatch(/step/)
    await context.close()
  })

  it('shows each form of the plate with its words: earlier, beside, change, map', { timeout: 240_000 }, async () => {
    const { context, page, faults } = await resurvey('Tamsel')
    const press = (name: string | RegExp) => page.getByRole('radio', { name }).press('Space')
    const title = () => page.locator('svg.hull').first().textContent()
    await press(/2023/)
    await expect.poll(title, slow).toMatch(/December 2023/)
    await press('Beside')
    await expect.poll(() => page.getByRole('listbox').count(), slow).toBe(2)
    await press('Change')
    await expect.poll(title, slow).toMatch(/Change.*since/)
    await press('Map')
    await expect.poll(title, slow).toMatch(/between the readings/)
    // What lies behind is laid over every form, and the mirror twin of the chosen place is marked.
    expect(await title()).toMatch(/water tank/)
    expect(await page.locator('svg.hull .mirror').count()).toBeGreaterThan(0)
    expect(faults).toEqual([])
    await context.close()
  })

  it('shows two depths from visit to visit, each against its own baseline', async () => {
    const { context, page } = await resurvey('Alder Carr')
    const steps = page.getByRole('table', { name: /From visit to visit/ })
    await expect.poll(() => steps.locator('tbody tr').count(), slow).toBe(2)
    expect(
      await page
        .getByRole('table', { name: /each depth’s own dry baseline/ })
        .locator('tbody tr')
        .count(),
    ).toBe(3)
    expect(await violations(page, true)).toEqual([])
    await context.close()
  })

  it('lowers a standing by name and takes it back, and offers nothing higher', { timeout: 240_000 }, async () => {
    const { context, page } = await resurvey('Wych Elm')
    const visits = page.getByRole('region', { name: 'Visits' })
    // Held fast in the address: of passes that may not be subtracted another would be set beside.
    await visits.locator('button[tabindex="0"]').press('Enter')
    await expect.poll(() => page.url(), slow).toContain('beside=')
    await visits.getByRole('button', { name: 'lower its standing' }).press('Enter')
    const sheet = page.getByRole('dialog')
    expect(await sheet.getByRole('radio').allTextContents()).toEqual(['unlike', 'quoted'])
    await sheet.getByRole('button', { name: 'Lower it' }).press('Enter')
    await expect.poll(() => sheet.textContent(), slow).toContain('Say why')
    await sheet.getByLabel('Why').fill('Read beside a heater.')
    await sheet.getByRole('button', { name: 'Lower it' }).press('Enter')
    await expect.poll(() => visits.textContent(), slow).toMatch(/stands quoted to .*Read beside a heater/)
    await visits.getByRole('button', { name: /take back what/ }).press('Enter')
    await expect.poll(() => visits.getByRole('button', { name: 'lower its standing' }).count(), slow).toBe(1)
    await context.close()
  })

  it('carries a hull of many hundreds of places, by keyboard too', { timeout: 300_000 }, async () => {
    const all = await open(browser)
    await signIn(all.page, 'principal')
    const { vessel, places } = await largeHull(all.context)
    expect(places).toBeGreaterThan(500)
    await all.page.goto(`/vessels/${vessel}`)
    await settle(all.page)
    const options = all.page.getByRole('option')
    expect(await options.count()).toBeGreaterThan(500)
    await all.page.locator('[role=option][tabindex="0"]').focus()
    const at = () => all.page.evaluate(() => document.activeElement?.getAttribute('aria-label') ?? '')
    const from = await at()
    await all.page.keyboard.press('ArrowLeft')
    expect(await at()).not.toBe(from)
    expect(await violations(all.page, true)).toEqual([])
    expect(all.faults).toEqual([])
    await all.context.close()
  })

  it('is a phone’s page as well', async () => {
    const { context, page } = await resurvey('Tamsel', '?show=change', 'phone')
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
    expect(wide).toBe(0)
    await context.close()
  })
})
