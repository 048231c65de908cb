import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { launch, open, settle, signIn } from './open'
import { onPaper } from './print'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

async function instrument(page: Page, name: string): Promise<string> {
  await page.goto('/instruments')
  await settle(page)
  return (await page.getByRole('link', { name, exact: true }).getAttribute('href')) ?? ''
}

/** Puts text on the clipboard of one field, as a spreadsheet does. */
async function pasteInto(page: Page, label: string, text: string) {
  await page.getByLabel(label, { exact: true }).focus()
  await page.evaluate((said) => {
    const data = new DataTransfer()
    data.setData('text/plain', said)
    document.activeElement?.dispatchEvent(
      new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }),
    )
  }, text)
}

describe('a practice measures itself', () => {
  it('types a kit by keyboard and paste, and reads what it gives', { timeout: 120_000 }, async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'principal')
    const pins = await instrument(page, 'Skerrow pins')
    await page.goto(`${pins}/kit`)
    await settle(page)
    await page.getByText('I. Varrow', { exact: true }).click()
    await page.getByText('S. Maddern', { exact: true }).click()

    await page.getByLabel('spot 1, I. Varrow, reading 1').focus()
    for (const said of ['12,1', '12.4', '12.2', '15.0']) {
      await page.keyboard.type(said)
      await page.keyboard.press('Enter')
    }
    // One hand finishes its spot before the next.
    expect(await page.getByLabel('spot 2, I. Varrow, reading 1').inputValue()).toBe('15.0')
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe(
      'spot 2, I. Varrow, reading 2',
    )
    await page.keyboard.type('75')
    await page.keyboard.press('ArrowUp')
    const wrong = page.getByLabel('spot 2, I. Varrow, reading 2')
    expect(await wrong.getAttribute('aria-invalid')).toBe('true')
    expect(await wrong.getAttribute('title')).toMatch(/6\.0 to 60\.0/)
    await page.getByRole('button', { name: 'Keep the kit' }).click()
    await page.getByText(/1 cell cannot be kept/).waitFor()
    await page.keyboard.press('Escape')
    await wrong.focus()
    await page.keyboard.press('Control+z')
    await page.keyboard.press('Control+z')
    expect(await wrong.inputValue()).toBe('')

    const lines = Array.from({ length: 10 }, (_, spot) =>
      [0.1, 0, 0.3, 0.2, 0.4, 0.1].map((d) => (10 + 3 * spot + d).toFixed(1)).join('\t'),
    )
    await pasteInto(page, 'spot 1, I. Varrow, reading 1', lines.join('\n'))
    await page.getByText('Pasted: 60 cells. 60 of 60 read.').waitFor()
    await page.getByRole('button', { name: 'Keep the kit' }).click()
    await page.waitForURL(`**${pins}`)
    await page
      .getByText(/from \d+ re-placements/)
      .first()
      .waitFor()
    await page
      .getByText(/from 2 people at 10 spots/)
      .first()
      .waitFor()
    expect(faults).toEqual([])
    await context.close()
  })

  it('shows a surveyor his or her own repeatability and nobody else’s', { timeout: 60_000 }, async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'surveyor')
    await page.goto('/people')
    await settle(page)
    await page.getByRole('heading', { name: 'Your own repeatability' }).waitFor()
    const own = page.getByRole('table', { name: /Own repeatability/ })
    const names = new Set(await own.getByRole('rowheader').allInnerTexts())
    expect([...names]).toEqual(['S. Maddern'])
    await page.goto(await instrument(page, 'Skerrow deep No. 2'))
    await settle(page)
    expect(await page.getByText(/R\. Quillan, own/).count()).toBe(0)
    expect(await page.getByText(/S\. Maddern, own/).count()).toBe(1)
    expect(await page.getByText(/An aid and not a score/).count()).toBe(1)
    expect(faults).toEqual([])
    await context.close()
  })

  it('shows the office nobody’s, and prints without a control and with nothing cut', { timeout: 90_000 }, async () => {
    const { context, page } = await open(browser)
    await signIn(page, 'office')
    await page.goto(await instrument(page, 'Skerrow deep No. 2'))
    await settle(page)
    expect(await page.getByText(/, own s/).count()).toBe(0)
    expect(await page.getByText(/An aid and not a score/).count()).toBe(0)
    expect(await onPaper(page)).toEqual({ controls: [], cut: [] })
    await page.goto('/instruments/half-hour')
    await settle(page)
    expect(await onPaper(page)).toEqual({ controls: [], cut: [] })
    await context.close()
  })

  it('names the drift of an instrument, and two that are not comparable', { timeout: 60_000 }, async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'office')
    await page.goto(await instrument(page, 'Skerrow deep No. 1'))
    await settle(page)
    await page
      .getByText(/lie beyond the control limits/)
      .first()
      .waitFor()
    await page.getByText(/Too few: the two are not comparable/).waitFor()
    const tables = page.getByText('as a table')
    for (let k = 0; k < (await tables.count()); k++) await tables.nth(k).click()
    // Every chart and every cross figure has its twin: a line a point.
    const figures = page.locator('main :has(> div > svg[role=img], > svg[role=img]):has(> details)')
    expect(await figures.count()).toBeGreaterThan(3)
    for (const figure of await figures.all()) {
      const points = await figure.locator('svg circle:not([class*=ring]), svg path[class*=point]').count()
      expect(await figure.locator('details table').first().locator('tbody tr').count()).toBe(points)
    }
    await page.getByRole('table', { name: 'Low block of Skerrow deep No. 1' }).waitFor()
    await page.goto(await instrument(page, 'Skerrow deep No. 2'))
    await settle(page)
    await page.getByText(/wider than that all along: the two are not comparable/).waitFor()
    await page.getByText(/the two may be held side by side/).waitFor()
    expect(faults).toEqual([])
    await context.close()
  })
})
