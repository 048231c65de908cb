import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { AxeResults } from 'axe-core'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { launch, open, settle, signIn } from './open'
import { outside, type Screen, screens } from './screens'

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')
let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

const everything = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']
/** Structure does not change with the light: the other themes are asked what depends on colour. */
const colours = ['color-contrast', 'link-in-text-block', 'color-contrast-enhanced']

/** Violations in words, so that a failure says where. */
async function violations(page: Page, all: boolean): Promise<string[]> {
  await page.evaluate(source)
  const found = (await page.evaluate(
    (options) => (globalThis as unknown as { axe: { run(o: object): Promise<AxeResults> } }).axe.run(options),
    all
      ? { runOnly: everything, rules: { 'target-size': { enabled: true } }, resultTypes: ['violations'] }
      : { runOnly: colours, resultTypes: ['violations'] },
  )) as AxeResults
  return found.violations.map(
    ({ id, nodes }) =>
      `${id}: ${nodes
        .slice(0, 3)
        .map((node) => `${node.target.join(' ')} ${node.failureSummary?.split('\n')[1] ?? ''}`)
        .join(' | ')}`,
  )
}

async function look(page: Page, { path }: Screen, all: boolean): Promise<string[]> {
  await page.goto(path)
  await settle(page)
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
  return [...(await violations(page, all)), ...(wide > 0 ? [`the page is ${wide} px too wide`] : [])]
}

async function walk(page: Page, list: readonly Screen[], all: boolean) {
  const found: Record<string, string[]> = {}
  for (const screen of list) {
    const bad = await look(page, screen, all)
    if (bad.length) found[screen.name] = bad
  }
  return found
}

describe('axe finds nothing to report', () => {
  it.each(['desk', 'phone'] as const)('on each screen of the office, %s', { timeout: 400_000 }, async (size) => {
    const { context, page, faults } = await open(browser, { size })
    await signIn(page, 'principal')
    expect(await walk(page, await screens(context), true)).toEqual({})
    expect(faults).toEqual([])
    await context.close()
  })

  it('on the screens outside', async () => {
    const { context, page } = await open(browser, { size: 'phone' })
    expect(await walk(page, outside, true)).toEqual({})
    await context.close()
  })

  it.each(['shed', 'glare'] as const)('in the colours of %s', { timeout: 400_000 }, async (theme) => {
    const { context, page } = await open(browser, { theme })
    expect(await walk(page, outside, false)).toEqual({})
    await signIn(page, 'principal')
    expect(await walk(page, await screens(context), false)).toEqual({})
    await context.close()
  })
})
