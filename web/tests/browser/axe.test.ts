import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { launch, open, settle, signIn } from './open'
import { mine, outside, type Screen, screens } from './screens'
import { violations } from './violations'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

/** What was issued is served with every script shut out, axe’s too: it is looked at as it reads, beside. */
const issued = /\/report\.html$|\/addenda\/\d+\/page$/

async function look(page: Page, { path }: Screen, all: boolean): Promise<string[]> {
  if (issued.test(path)) {
    await page.goto('about:blank') // the policy of the page before would shut its styles out
    await page.setContent(await (await page.context().request.get(path)).text())
  } else {
    await page.goto(path)
    await settle(page)
  }
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
  return [...(await violations(page, all)), ...(wide > 0 ? [`the page is ${wide} px too wide`] : [])]
}

/** Walks the screens with a few pages side by side: most of a walk is waiting for answers. */
async function walk(context: BrowserContext, list: readonly Screen[], all: boolean) {
  const found: Record<string, string[]> = {}
  const left = [...list]
  const pages = await Promise.all([1, 2, 3].map(() => context.newPage()))
  await Promise.all(
    pages.map(async (page) => {
      for (let screen = left.shift(); screen; screen = left.shift()) {
        const bad = await look(page, screen, all)
        if (bad.length) found[screen.name] = bad
      }
      await page.close()
    }),
  )
  return found
}

describe('axe finds nothing to report', () => {
  it.each(['desk', 'phone'] as const)('on each screen of the office, %s', { timeout: 400_000 }, async (size) => {
    const { context, page, faults } = await open(browser, { size })
    await signIn(page, 'principal')
    expect(await walk(context, await screens(context), true)).toEqual({})
    expect(faults).toEqual([])
    await context.close()
  })

  it('on the screens outside', async () => {
    const { context } = await open(browser, { size: 'phone' })
    expect(await walk(context, outside, true)).toEqual({})
    await context.close()
  })

  it.each(['paper', 'shed', 'glare'] as const)('on a client’s own pages, in the colours of %s', async (theme) => {
    const { context, page, faults } = await open(browser, { size: 'phone', theme })
    expect(await walk(context, await mine(page), theme === 'paper')).toEqual({})
    expect(faults).toEqual([])
    await context.close()
  })

  it.each(['shed', 'glare'] as const)('in the colours of %s', { timeout: 400_000 }, async (theme) => {
    const { context, page } = await open(browser, { theme })
    expect(await walk(context, outside, false)).toEqual({})
    await signIn(page, 'principal')
    expect(await walk(context, await screens(context), false)).toEqual({})
    await context.close()
  })
})
