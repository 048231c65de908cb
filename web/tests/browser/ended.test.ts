import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/model/id'
import { ask, demo, launch, open, settle, signIn } from './open'
import { violations } from './violations'

const slow = { timeout: 20_000 }

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

interface Lines {
  reports: { edges: { node: { id: string; number: string; state: string; vessel: { name: string } } }[] }
}

describe('a report that another takes the place of', () => {
  it('says so, and why, wherever it is opened', { timeout: 240_000 }, async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'principal')
    const { reports } = await ask<Lines>(context, 'ReportsPage')
    const of = reports.edges
      .map(({ node }) => node)
      .filter(({ vessel, state }) => vessel.name === 'Tamsel' && /issued|amended/.test(state))
      .sort((a, b) => a.number.localeCompare(b.number))
    const old = of.find(({ state }) => state === 'issued')
    const by = of.at(-1)
    expect(old && by && old.id !== by.id).toBe(true)
    const pdf = await (await context.request.get(`/reports/${old?.id}/report.pdf`)).body()

    // Somebody holds a link to it.
    const { shareReport } = await ask<{ shareReport: { link: string } }>(context, 'ShareReport', {
      input: {
        mutation: newId('mut'),
        id: newId('shr'),
        report: old?.id,
        name: 'A. Ferrant',
        email: 'b.reader@post.example',
        purpose: 'to read',
        until: new Date(Date.now() + 20 * 86_400_000).toISOString(),
      },
    })
    const link = new URL(shareReport.link).pathname

    await page.goto(`/reports/${old?.id}`)
    await settle(page)
    await page.getByRole('button', { name: 'Replace this report' }).click()
    const sheet = page.getByRole('dialog')
    await sheet.getByLabel('Report that takes its place').selectOption(by?.id ?? '')
    await sheet.getByLabel('Why', { exact: true }).fill('The baseline was read in the sun.')
    await sheet.getByText(`Report ${by?.number} has taken the place of this one. The baseline`).waitFor()
    await sheet.getByText('by mail', { exact: false }).waitFor()
    expect(await violations(page, true)).toEqual([])
    await sheet.getByRole('button', { name: 'Replace it' }).click()
    await sheet.waitFor({ state: 'hidden' })

    // On its page, with the reason; and the other one names it.
    const notice = page.locator('main').getByText('has taken the place of', { exact: false }).first()
    await notice.waitFor()
    expect(await page.locator('main').textContent()).toContain('The baseline was read in the sun.')
    // The button that was pressed is gone: who works by keyboard goes on from what the report now says.
    const focused = () => page.evaluate(() => document.querySelector(':focus')?.textContent ?? '')
    await expect.poll(focused, slow).toContain('has taken')
    await page.getByRole('link', { name: `Report ${by?.number}` }).click()
    await page.getByText('It took the place of', { exact: false }).waitFor()

    // In its history, in order.
    await page.goto(`/reports/${old?.id}/history`)
    await settle(page)
    const told = await page.locator('main ol > li').allTextContents()
    expect(told[0]).toContain('Draft begun')
    expect(told.at(-1)).toContain(`Replaced by report ${by?.number}`)
    expect(told.some((line) => line.includes('Issued as report') && line.includes('SHA-256'))).toBe(true)
    expect(told.some((line) => line.includes('Link for A. Ferrant'))).toBe(true)

    // By the link: the short page, and before the page as it was issued.
    const reader = await open(browser, { size: 'phone' })
    await reader.page.goto(link)
    await reader.page.getByText(`Report ${by?.number} has taken the place of this one.`, { exact: false }).waitFor()
    expect(await reader.page.locator('main').textContent()).toContain('The baseline was read in the sun.')
    await reader.page.goto(`${link.replace('/s/', '/share/')}/report.html`)
    await reader.page.getByText('has taken the place of this one', { exact: false }).waitFor()
    await reader.page.getByRole('link', { name: `Read report ${old?.number} as it was issued` }).click()
    await reader.page.getByRole('heading', { name: 'Tamsel' }).waitFor()

    // Where the file is checked.
    await reader.page.goto('/as-issued')
    await reader.page
      .locator('input[type=file]')
      .setInputFiles({ name: 'old.pdf', mimeType: 'application/pdf', buffer: pdf })
    await reader.page.getByText('as it was issued, byte for byte').waitFor()
    await reader.page.getByText('The baseline was read in the sun.', { exact: false }).waitFor()
    expect(reader.faults).toEqual([])
    await reader.context.close()

    // And by mail.
    await expect
      .poll(
        async () => (await (await context.request.get('/dev/mails')).text()).includes('b.reader@post.example'),
        slow,
      )
      .toBe(true)
    expect(faults).toEqual([])
    await context.close()
  })
})

describe('an addendum', () => {
  it('is a page that leads to its report, and the report leads to it', { timeout: 120_000 }, async () => {
    const { context, page, faults } = await open(browser, { size: 'phone' })
    await signIn(page, 'principal')
    const { reports } = await ask<Lines>(context, 'ReportsPage')
    const added = reports.edges.find(({ node }) => node.state === 'amended')?.node
    await page.goto(`/reports/${added?.id}`)
    await settle(page)
    await page.getByRole('link', { name: 'Addendum 1', exact: true }).click()
    await page.getByText(`This addendum belongs to report ${added?.number}`, { exact: false }).waitFor()
    await page.getByRole('heading', { name: 'What is added' }).waitFor()
    await page.getByRole('link', { name: `Read report ${added?.number}` }).click()
    await page.getByText('adds to it and is read with it', { exact: false }).waitFor()
    await page.getByRole('link', { name: 'as it was issued', exact: false }).click()
    await page.getByRole('heading', { name: 'In short' }).waitFor()
    expect(faults).toEqual([])
    await context.close()
  })

  it('stands in the account of the client whose report it is', { timeout: 120_000 }, async () => {
    const { context, page, faults } = await open(browser, { size: 'phone' })
    const { email, password } = demo().client
    await page.goto('/my')
    await page.getByLabel('E-mail').fill(email)
    await page.getByLabel('Password').fill(password)
    await page.getByRole('button', { name: 'Open my reports' }).click()
    await page.locator('main li', { hasText: 'amended' }).getByRole('link').first().click()
    await page.getByText('Addendum 1', { exact: false }).first().waitFor()
    await page.getByRole('link', { name: 'Read it as a page' }).click()
    await page.getByRole('heading', { name: 'What is added' }).waitFor()
    expect(faults).toEqual([])
    await context.close()
  })
})
