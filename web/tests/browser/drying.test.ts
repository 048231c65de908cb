import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { launch, open, settle, signIn } from './open'
import { onPaper, sheets } from './print'
import { dryingJob, screens } from './screens'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

describe('the drying log', { timeout: 200_000 }, () => {
  it('has a gate signed with evidence and opened again, by keyboard', async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'surveyor')
    await page.goto(`/jobs/${await dryingJob(context)}/drying`)
    await settle(page)
    const title = page.getByRole('heading', { name: /^Coating gates/ })
    const met = async () => Number(/: (\d+) of/.exec((await title.textContent()) ?? '')?.[1] ?? 0)
    const before = await met()
    const gate = page.getByRole('listitem').filter({ hasText: 'Soluble salts' })
    await gate.getByRole('button', { name: /^Sign it/ }).focus()
    await page.keyboard.press('Enter')
    const dialog = page.getByRole('dialog')
    await dialog.getByRole('button', { name: 'Sign', exact: true }).click()
    await expect.poll(() => dialog.getByRole('alert').count()).toBe(1)
    const evidence = `patch at port 10, ${Date.now()}`
    await dialog.getByLabel('What it rests on').fill(evidence)
    await page.keyboard.press('Tab')
    await page.keyboard.press('Enter')
    await dialog.waitFor({ state: 'detached' })
    await expect.poll(() => gate.textContent()).toContain(evidence)
    expect(await gate.textContent()).toContain('The record said then')
    expect(await met()).toBe(before + 1)

    await gate.getByRole('button', { name: /^Open it again/ }).click()
    await dialog.getByLabel('Why it is open again').fill('washed once more')
    await dialog.getByRole('button', { name: 'Open it again' }).click()
    await dialog.waitFor({ state: 'detached' })
    await expect.poll(() => gate.textContent()).toContain('washed once more')
    expect(await met()).toBe(before)
    expect(await page.locator('main').textContent()).not.toMatch(/\bready\b/i)
    expect(faults).toEqual([])
    await context.close()
  })

  it('prints without controls and with nothing cut; the brief before a visit on one sheet', async () => {
    const { context, page } = await open(browser)
    await signIn(page, 'surveyor')
    const job = await dryingJob(context)
    await page.goto(`/jobs/${job}/drying`)
    await settle(page)
    expect(await onPaper(page)).toEqual({ controls: [], cut: [] })
    const briefs = (await screens(context)).filter(({ name }) => name.startsWith('job-brief'))
    expect(briefs.length).toBeGreaterThan(2)
    for (const { path } of briefs) {
      await page.goto(path)
      await settle(page)
      expect(await onPaper(page)).toEqual({ controls: [], cut: [] })
      expect(await sheets(page)).toBe(1)
    }
    await context.close()
  })

  it('says in a table what its chart shows', async () => {
    const { context, page } = await open(browser, { size: 'phone' })
    await signIn(page, 'surveyor')
    await page.goto(`/jobs/${await dryingJob(context)}/drying`)
    await settle(page)
    const points = await page.locator('svg[role=img] circle').count()
    expect(points).toBeGreaterThan(3)
    await page.getByRole('button', { name: 'As a table' }).click()
    const table = page.getByRole('table', { name: 'The passes of her time ashore' })
    expect(await table.getByRole('row').count()).toBeGreaterThan(points)
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0)
    await context.close()
  })
})
