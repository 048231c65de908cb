import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { AxeResults } from 'axe-core'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { launch, open, settle, signIn, themes } from './open'
import { outside, type Screen, screens } from './screens'

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')
let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

/** Violations in words, so that a failure says where. */
async function violations(page: Page): Promise<string[]> {
  await page.evaluate(source)
  const found = (await page.evaluate(() =>
    (globalThis as unknown as { axe: { run(o: object): Promise<AxeResults> } }).axe.run({
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
      rules: { 'target-size': { enabled: true } },
    }),
  )) as AxeResults
  return found.violations.map(
    ({ id, nodes }) =>
      `${id}: ${nodes
        .slice(0, 3)
        .map((node) => `${node.target.join(' ')} ${node.failureSummary?.split('\n')[1] ?? ''}`)
        .join(' | ')}`,
  )
}

async function look(page: Page, { path }: Screen): Promise<string[]> {
  await page.goto(path)
  await settle(page)
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
  return [...(await violations(page)), ...(wide > 0 ? [`the page is ${wide} px too wide`] : [])]
}

describe.each(themes)('axe finds nothing to report in %s', (theme) => {
  it.each(['desk', 'phone'] as const)('on each screen of the office, %s', { timeout: 400_000 }, async (size) => {
    const { context, page, faults } = await open(browser, { theme, size })
    await signIn(page, 'principal')
    const found: Record<string, string[]> = {}
    for (const screen of await screens(context)) {
      const bad = await look(page, screen)
      if (bad.length) found[screen.name] = bad
    }
    expect(found).toEqual({})
    expect(faults).toEqual([])
    await context.close()
  })

  it('on the screens outside', async () => {
    const { context, page } = await open(browser, { theme, size: 'phone' })
    const found: Record<string, string[]> = {}
    for (const screen of outside) {
      const bad = await look(page, screen)
      if (bad.length) found[screen.name] = bad
    }
    expect(found).toEqual({})
    await context.close()
  })
})
