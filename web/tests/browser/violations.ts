import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { AxeResults } from 'axe-core'
import type { Page } from 'playwright-core'

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

const everything = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']
/** Structure does not change with the light: the other themes are asked what depends on colour. */
const colours = ['color-contrast', 'link-in-text-block', 'color-contrast-enhanced']

/** Violations in words, so that a failure says where. */
export async function violations(page: Page, all: boolean): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(source)
  const found = (await page.evaluate(
    (options) => {
      const page = globalThis as unknown as { axe: { run(o: object): Promise<AxeResults> }; held: Promise<AxeResults> }
      page.held = page.axe.run(options) // named by the page: a promise that nothing holds may be collected under way
      return page.held
    },
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
