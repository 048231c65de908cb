import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { launch, open, settle, signIn, type Theme, themes } from '../browser/open'
import { issued, mine, outside, type Screen, screens } from '../browser/screens'
import { lowTargets } from '../browser/targets'
import { violations } from '../browser/violations'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

/** What is wrong with a screen: with its structure as it opens, and with its colours in each other light. */
async function look(page: Page, { path }: Screen, lights: readonly Theme[]): Promise<string[]> {
  if (issued.test(path)) {
    // axe’s scripts would be shut out too: it is looked at as it reads, beside.
    await page.goto('about:blank') // the policy of the page before would shut its styles out
    await page.setContent(await (await page.context().request.get(path)).text())
  } else {
    await page.goto(path)
    await settle(page)
  }
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
  // What was issued keeps the measures of its own sheet.
  const low = issued.test(path) ? [] : await lowTargets(page)
  const bad = [...(await violations(page, true)), ...low]
  if (wide > 0) bad.push(`the page is ${wide} px too wide`)
  for (const light of lights) {
    await page.evaluate((name) => {
      document.documentElement.dataset.theme = name
    }, light)
    bad.push(...(await violations(page, false)).map((words) => `${light}: ${words}`))
  }
  return bad
}

/** Walks the screens with a few pages side by side: most of a walk is waiting for answers. */
async function walk(context: BrowserContext, list: readonly Screen[], lights: readonly Theme[] = []) {
  const found: Record<string, string[]> = {}
  const left = [...list]
  const pages = await Promise.all([1, 2, 3].map(() => context.newPage()))
  await Promise.all(
    pages.map(async (page) => {
      for (let screen = left.shift(); screen; screen = left.shift()) {
        const bad = await look(page, screen, lights)
        if (bad.length) found[screen.name] = bad
      }
      await page.close()
    }),
  )
  return found
}

/** The lights beside the one each screen opens in. */
const others = themes.filter((theme) => theme !== 'paper')

describe('axe finds nothing to report', () => {
  it.each([
    { size: 'desk', lights: others },
    { size: 'phone', lights: [] },
  ] as const)('on each screen of the office, $size', { timeout: 400_000 }, async ({ size, lights }) => {
    const { context, page, faults } = await open(browser, { size })
    await signIn(page, 'principal')
    expect(await walk(context, await screens(context), lights)).toEqual({})
    expect(faults).toEqual([])
    await context.close()
  })

  it('on the screens outside', async () => {
    const { context } = await open(browser, { size: 'phone' })
    expect(await walk(context, outside, others)).toEqual({})
    await context.close()
  })

  it('on a client’s own pages', async () => {
    const { context, page, faults } = await open(browser, { size: 'phone' })
    expect(await walk(context, await mine(page), others)).toEqual({})
    expect(faults).toEqual([])
    await context.close()
  })
})
