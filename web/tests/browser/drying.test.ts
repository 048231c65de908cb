import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { dayIn, dayNumber, dayOf } from '../../src/model/dates'
import { day } from './keys'
import { launch, open, settle, signIn } from './open'
import { onPaper, sheets } from './print'
import { dryingJob, screens } from './screens'
import { violations } from './violations'

const today = dayNumber(dayIn(Date.now(), 'Europe/Dublin'))

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
    // Come to from the board, whose week lies across the sheet: the brief stands upright all the same.
    await page.goto('/board')
    await settle(page)
    expect(await sheets(page)).toEqual(['across'])
    for (const { path } of briefs) {
      await page.evaluate((to) => {
        history.pushState({}, '', to)
        dispatchEvent(new PopStateEvent('popstate'))
      }, path)
      await page.getByRole('heading', { name: 'Plan of places' }).waitFor()
      await settle(page)
      expect(await onPaper(page)).toEqual({ controls: [], cut: [] })
      expect(await sheets(page)).toEqual(['upright'])
    }
    await context.close()
  })

  it('takes a wash’s rebound, a sheet and the air, each told in its place', async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'surveyor')
    await page.goto(`/jobs/${await dryingJob(context)}/drying`)
    await settle(page)
    const dialog = page.getByRole('dialog')
    const once = Date.now().toString(36)

    await page.getByRole('button', { name: 'Write down a rebound' }).focus()
    await page.keyboard.press('Enter')
    await dialog.getByText('Heat off', { exact: true }).click()
    await dialog.getByLabel('Instrument and scale').selectOption({ index: 1 })
    await dialog.getByRole('button', { name: 'Write down' }).click()
    await dialog.getByText('Give one place at least', { exact: false }).waitFor()
    await day(page, 'Heat off on', dayOf(today - 3))
    await dialog.getByLabel('Heat off on, time of day').fill('08:00')
    await day(page, 'Read on', dayOf(today - 2))
    await dialog.getByLabel('Read on, time of day').fill('10:00')
    await dialog.getByText('Read 26 h after', { exact: false }).waitFor()
    for (const k of [1, 2, 3, 4, 5, 6]) {
      await dialog.getByLabel(`Place, line ${k}`).selectOption({ index: 10 + k })
      await dialog.getByLabel(`Before, line ${k}`).fill(String(20 + k))
      await dialog.getByLabel(`After, line ${k}`).fill(k === 6 ? '999' : `${22 + k},5`)
    }
    await dialog.getByText(/the scale ends at/).waitFor()
    await dialog.getByLabel('After, line 6').fill('28.5')
    expect(await violations(page, true)).toEqual([])
    await dialog.getByRole('button', { name: 'Write down' }).click()
    await dialog.waitFor({ state: 'detached' })
    await page
      .getByText(/after heat off: \+2\.5 \(.*\) after 26 h at 6 places/)
      .first()
      .waitFor()

    await page.getByRole('button', { name: 'Write down a sheet' }).click()
    await dialog.getByRole('button', { name: 'Write down' }).click()
    await dialog.getByText('Say where, so that it can be found again').waitFor()
    await dialog.getByText('Say what was seen').waitFor()
    await dialog.getByLabel('Where on the hull').fill(`port 9, ${once}`)
    await dialog.getByText('Water stood', { exact: true }).click()
    expect(await violations(page, true)).toEqual([])
    await dialog.getByRole('button', { name: 'Write down' }).click()
    await dialog.waitFor({ state: 'detached' })
    const sheet = page.getByRole('table', { name: 'Plastic sheets' }).getByRole('row').filter({ hasText: once })
    await sheet.getByText('water stood').waitFor()
    await sheet.getByText('24 h').waitFor()

    const records = () =>
      page
        .getByRole('table', { name: 'The air' })
        .getByRole('row')
        .filter({ hasText: 'she dries in' })
        .locator('td')
        .first()
    const before = Number((await records().textContent())?.replace(/\D/g, ''))
    await page.getByRole('button', { name: 'Write down the air' }).click()
    await dialog.getByRole('button', { name: 'Write down' }).click()
    await dialog.getByText('Say where the figures come from').waitFor()
    await dialog.getByLabel('Source').fill('hygrometer, by hand')
    await dialog.getByText('A log', { exact: true }).click()
    const on = dayOf(today - 1)
    const minute = String(Math.floor(Date.now() / 1000) % 60).padStart(2, '0')
    await dialog
      .getByLabel('Or typed: a line for each')
      .fill(`${on}; 06:${minute}; 18,5; 44\n${on}; 07:${minute}; 19; 140`)
    await dialog.getByText('1 record read.').waitFor()
    await dialog.getByText('Line 2: relative humidity', { exact: false }).waitFor()
    expect(await violations(page, true)).toEqual([])
    await dialog.getByRole('button', { name: 'Write down' }).click()
    await dialog.waitFor({ state: 'detached' })
    await expect.poll(async () => Number((await records().textContent())?.replace(/\D/g, ''))).toBeGreaterThan(before)
    expect(faults).toEqual([])
    await context.close()
  })

  it('has the practice’s own figure for a gate, with where it comes from', async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'principal')
    await page.goto(`/jobs/${await dryingJob(context)}/drying`)
    await settle(page)
    const gate = page.getByRole('listitem').filter({ hasText: 'Soluble salts' })
    await gate.getByRole('button', { name: /our own figure/ }).focus()
    await page.keyboard.press('Enter')
    const dialog = page.getByRole('dialog')
    await dialog.getByLabel('At least').fill('60')
    await dialog.getByLabel('At most').fill('50')
    await dialog.getByRole('button', { name: 'Set it' }).click()
    await dialog.getByText('It lies below the least').waitFor()
    await dialog.getByText('Say where the figure comes from').waitFor()
    await dialog.getByLabel('At least').fill('')
    const source = `own rule, no source, ${Date.now().toString(36)}`
    await dialog.getByLabel('Where it comes from').fill(source)
    expect(await violations(page, true)).toEqual([])
    await dialog.getByRole('button', { name: 'Set it' }).click()
    await dialog.waitFor({ state: 'detached' })
    await gate.getByText(`this practice’s own figure: ${source}`, { exact: false }).waitFor()
    await gate.getByText(/at most 50/).waitFor()
    expect(faults).toEqual([])
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
