import { mkdirSync, rmSync } from 'node:fs'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, it } from 'vitest'
import { launch, open, settle, signIn, sizes, themes } from '../browser/open'
import { issued, mine, outside, type Screen, screens } from '../browser/screens'

/** A picture of every screen at both sizes in the three themes, to be looked at. */
const folder = new URL('../../pictures/', import.meta.url).pathname
let browser: Browser
beforeAll(async () => {
  rmSync(folder, { recursive: true, force: true })
  mkdirSync(folder, { recursive: true })
  browser = await launch()
})
afterAll(() => browser?.close())

const each = themes.flatMap((theme) => (Object.keys(sizes) as (keyof typeof sizes)[]).map((size) => ({ theme, size })))

it.each(each)('$size in $theme', { timeout: 600_000 }, async ({ theme, size }) => {
  const { context, page } = await open(browser, { theme, size })
  const shoot = async ({ name, path }: Screen) => {
    await page.goto(path, { waitUntil: 'load' })
    if (!issued.test(path)) await settle(page)
    await page.screenshot({ path: `${folder}${name}-${sizes[size].width}-${theme}.png`, fullPage: size === 'phone' })
  }
  for (const screen of outside) await shoot(screen)
  for (const screen of await mine(page)) await shoot(screen)
  await signIn(page, 'principal')
  for (const screen of await screens(context)) await shoot(screen)
  await context.close()
})
