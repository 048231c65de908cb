import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/model/id'
import { ask, launch, open, settle, signIn } from '../browser/open'
import { onPaper } from '../browser/print'
import { violations } from '../browser/violations'
import { largeHull } from './large'

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

  it('says that something did not come, never that nothing was found, and asks again', {
    timeout: 240_000,
  }, async () => {
    const { context, page } = await resurvey('Tamsel')
    await context.route('**/graphql', (route) => route.abort())
    await page.getByRole('option', { name: /^port 6\/2,/ }).click()
    await expect.poll(() => page.locator('#place h2').textContent(), slow).toBe('Port 6/2')
    await page.locator('#place').getByText('The service cannot be reached', { exact: false }).waitFor()
    await page.getByRole('button', { name: /the whole story/ }).press('Enter')
    const sheet = page.getByRole('dialog')
    await sheet.getByText('The service cannot be reached', { exact: false }).waitFor()
    expect(await sheet.textContent()).not.toMatch(/Nothing was found/)
    expect(await sheet.textContent()).toMatch(/have not come yet/)
    // The button goes with the words: the sheet keeps the focus, and Escape is heard.
    await context.unroute('**/graphql')
    await sheet.getByRole('button', { name: 'Try again' }).press('Enter')
    await sheet.getByRole('table', { name: 'Found and bared here' }).waitFor()
    await expect
      .poll(() => page.evaluate(() => document.activeElement?.closest('[role=dialog]') !== null), slow)
      .toBe(true)
    await page.keyboard.press('Escape')
    await expect.poll(() => page.getByRole('dialog').count(), slow).toBe(0)
    await page.locator('#place').getByRole('button', { name: 'Try again' }).press('Enter')
    await page.locator('#place').getByText('Placements', { exact: false }).waitFor()
    await context.close()
  })

  it('shows a visit from old papers as one, silent of what nobody wrote down', async () => {
    const { context, page } = await resurvey('Tamsel', '?show=then')
    const visits = page.getByRole('region', { name: 'Visits' })
    await visits.locator('button[tabindex="0"]').focus()
    await page.keyboard.press('Home')
    await page.keyboard.press('Enter')
    const unseen = page.getByRole('region', { name: 'What was not seen' })
    await expect.poll(() => unseen.textContent(), slow).toMatch(/with neither a reading nor a reason why not/)
    const told = (await unseen.textContent()) ?? ''
    expect(told).toMatch(/Whether coating was taken off was not written down/)
    expect(told).not.toMatch(/Every place of the plan was reached|No coating was taken off/)
    // The oldest of ten visits is set beside, and no column of it is cut.
    const cut = await visits.evaluate((region) => {
      const first = region.querySelector('ol > li')
      const box = first?.closest('div')?.parentElement
      return (first?.getBoundingClientRect().left ?? 0) - (box?.getBoundingClientRect().left ?? 0)
    })
    expect(Math.abs(cut)).toBeLessThan(1.5)
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

  it('lists which places of an old report on another grid name a spot of today’s', async () => {
    const { context, page, faults } = await resurvey('Tamsel')
    const visits = page.getByRole('region', { name: 'Visits' })
    await visits.locator('button[tabindex="0"]').focus()
    await page.keyboard.press('Home')
    await page.keyboard.press('Enter')
    await expect.poll(() => visits.textContent(), slow).toMatch(/2015 stands quoted to/)
    const way = visits.getByRole('button', { name: /\d+ of \d+ places comparable/ })
    const [, comparable, of] = /(\d+) of (\d+)/.exec((await way.textContent()) ?? '') ?? []
    expect(Number(comparable)).toBeGreaterThan(0)
    expect(Number(comparable)).toBeLessThan(Number(of))
    await way.press('Enter')
    const sheet = page.getByRole('dialog')
    const rows = sheet.getByRole('table', { name: `${comparable} of ${of} places comparable` }).locator('tbody tr')
    await expect.poll(() => rows.count(), slow).toBe(Number(comparable))
    const within = Number(/within (\d+) mm/.exec((await sheet.textContent()) ?? '')?.[1])
    const apart = await rows.evaluateAll((list) => list.map((row) => Number(row.children[2]?.textContent)))
    expect(apart.every((mm) => mm >= 0 && mm <= within)).toBe(true)
    expect(await sheet.textContent()).toMatch(/whether they may be subtracted is for the standing/)
    expect(await violations(page, true)).toEqual([])
    await page.keyboard.press('Escape')
    await expect.poll(() => page.getByRole('dialog').count(), slow).toBe(0)
    // Quoted: what was read, and nothing that would be worked out from it.
    expect(await page.getByRole('radio', { name: 'Change' }).isDisabled()).toBe(true)
    expect(faults).toEqual([])
    await context.close()
  })

  it('opens the evidence of each sentence, by keyboard, and shuts it again', { timeout: 240_000 }, async () => {
    const { context, page, faults } = await resurvey('Tamsel', '?show=change')
    const proofs = page.locator('main ol li button[aria-expanded]')
    const codes = await proofs.count()
    expect(codes).toBeGreaterThan(5)
    for (let k = 0; k < codes; k++) {
      const proof = proofs.nth(k)
      await proof.press('Enter')
      await expect.poll(() => proof.getAttribute('aria-expanded'), slow).toBe('true')
      const evidence = page.locator(`[id="${await proof.getAttribute('aria-controls')}"]`)
      expect((await evidence.textContent())?.trim()).not.toBe('')
      // Whatever places it names are ringed on the hull, and only they.
      const named = await evidence.getByRole('button').count()
      const many = Number(/hull: (\d+) places/.exec((await evidence.textContent()) ?? '')?.[1] ?? named)
      expect(await ringed(page).count()).toBe(named || many)
      await proof.press('Enter')
      await expect.poll(() => proof.getAttribute('aria-expanded'), slow).toBe('false')
    }
    expect(faults).toEqual([])
    await context.close()
  })

  it('is gone through by keyboard alone: a place found, chosen, told in full, and back', async () => {
    const { context, page, faults } = await resurvey('Tamsel')
    const chosen = () => page.locator('#place h2').textContent()
    const from = await chosen()
    for (let k = 0; k < 40; k++) {
      await page.keyboard.press('Tab')
      if (await page.evaluate(() => document.activeElement?.getAttribute('role') === 'option')) break
    }
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-selected'))).toBe('true')
    await page.keyboard.press('ArrowLeft')
    await page.keyboard.press('ArrowUp')
    await page.keyboard.press('Enter')
    await expect.poll(chosen, slow).not.toBe(from)
    const to = await chosen()
    for (let k = 0; k < 40; k++) {
      await page.keyboard.press('Tab')
      if (await page.evaluate(() => /the whole story/.test(document.activeElement?.textContent ?? ''))) break
    }
    await page.keyboard.press('Enter')
    await expect.poll(() => page.getByRole('dialog').getByRole('heading').first().textContent(), slow).toBe(to)
    await page.keyboard.press('Escape')
    await expect.poll(() => page.getByRole('dialog').count(), slow).toBe(0)
    await expect
      .poll(() => page.evaluate(() => document.activeElement?.textContent ?? ''), slow)
      .toContain('the whole story')
    expect(faults).toEqual([])
    await context.close()
  })

  it('draws two passes side by side so large that each figure is read', async () => {
    const { context, page } = await resurvey('Tamsel', '?show=both')
    const plates = page.getByRole('listbox')
    expect(await plates.count()).toBe(2)
    const figures = await plates.evaluateAll((list) =>
      list.map((plate) => {
        const sizes = [...plate.querySelectorAll('.fig')].map((text) => text.getBoundingClientRect().height)
        return { n: sizes.length, least: Math.min(...sizes) }
      }),
    )
    for (const { n, least } of figures) {
      expect(n).toBeGreaterThan(70)
      expect(least).toBeGreaterThan(8)
    }
    await context.close()
  })

  it.each(['', '?show=change&table=1', '?show=both', '?show=map'])(
    'prints without controls and with nothing cut: %s',
    async (choices) => {
      const { context, page } = await resurvey('Tamsel', choices)
      expect(await onPaper(page)).toEqual({ controls: [], cut: [] })
      await page.emulateMedia({ media: 'print' })
      expect(await violations(page, false)).toEqual([])
      await context.close()
    },
  )

  it('says how much of earlier jobs may not be told, and of which sentences', { timeout: 300_000 }, async () => {
    const all = await open(browser)
    await signIn(all.page, 'principal')
    const { vessel, first } = await largeHull(all.context)
    const visits = all.page.getByRole('region', { name: 'Visits' })
    const says = all.page.locator('#says')
    await all.page.goto(`/vessels/${vessel}`)
    await settle(all.page)
    const { job } = await ask<{ job: { number: string; version: number } }>(all.context, 'JobPage', { id: first })
    expect(await visits.textContent()).toMatch(
      new RegExp(`Not for the client of job \\S+: 1 pass of job ${job.number}\\.`),
    )
    expect(await visits.getByText('not for this client').count()).toBe(1)
    expect(await says.textContent()).toContain(`rests on job ${job.number}, which the client of this one may not`)
    expect(await violations(all.page, true)).toEqual([])
    // Once the terms allow it there is nothing left to say of it.
    await ask(all.context, 'EditJob', {
      input: {
        mutation: newId('mut'),
        id: first,
        version: job.version,
        cite: 'vessel history without names',
        citeAgreedOn: '2026-04-01',
      },
    })
    await all.page.reload()
    await settle(all.page)
    expect(await visits.getByText(/not for (this|the) client/i).count()).toBe(0)
    expect(await says.textContent()).not.toContain('rests on job')
    expect(all.faults).toEqual([])
    await all.context.close()
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
    // A figure that cannot be read is not drawn; closer, each is, and the window opens over the chosen place.
    const figures = all.page.locator('svg.hull .fig')
    expect(await figures.count()).toBe(0)
    await all.page.getByRole('button', { name: 'closer' }).press('Enter')
    await expect.poll(() => figures.count(), slow).toBeGreaterThan(500)
    const least = await figures.evaluateAll((list) => Math.min(...list.map((f) => f.getBoundingClientRect().height)))
    expect(least).toBeGreaterThan(8)
    const inWindow = () =>
      all.page.evaluate(() => {
        const mark = document.querySelector('[role=option][aria-selected=true]')?.getBoundingClientRect()
        const box = document.querySelector('svg.hull')?.parentElement?.getBoundingClientRect()
        return mark && box && mark.left >= box.left && mark.right <= box.right && mark.bottom <= box.bottom
      })
    expect(await inWindow()).toBe(true)
    await all.page.locator('[role=option][tabindex="0"]').focus()
    for (let k = 0; k < 12; k++) await all.page.keyboard.press('ArrowRight')
    await all.page.keyboard.press('Enter')
    await expect.poll(inWindow, slow).toBe(true)
    // Its table begins with the first lines, and is whole when asked for.
    await all.page.getByRole('button', { name: 'as a table' }).press('Enter')
    const rows = all.page.locator('#table tbody tr')
    expect(await rows.count()).toBeLessThan(places)
    await all.page.getByRole('button', { name: /^The other \d+ places/ }).press('Enter')
    await expect.poll(() => rows.count(), slow).toBe(places)
    expect(await violations(all.page, true)).toEqual([])
    expect(all.faults).toEqual([])
    await all.context.close()
  })

  it('is a phone’s page as well', async () => {
    const { context, page } = await resurvey('Tamsel', '?show=change', 'phone')
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
    expect(wide).toBe(0)
    // Whatever is pressed by itself is as high as a thumb asks; words within a line are as high as the line.
    const low = await page.locator('main :is(button, summary, [role=radio])').evaluateAll((list) =>
      list
        .filter((one) => one.checkVisibility() && getComputedStyle(one.parentElement as Element).display !== 'inline')
        .filter((one) => !one.closest('p') && one.getBoundingClientRect().height < 43)
        .map((one) => one.textContent),
    )
    expect(low).toEqual([])
    const figures = page.locator('svg.hull .fig')
    expect(await figures.count()).toBe(0)
    await page.getByRole('button', { name: 'closer' }).click()
    await expect.poll(() => figures.count(), slow).toBeGreaterThan(50)
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0)
    expect(await violations(page, true)).toEqual([])
    await context.close()
  })
})
