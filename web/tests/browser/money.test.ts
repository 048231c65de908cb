import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/model/id'
import { ask, launch, mailTo, open, settle, signIn } from './open'
import { program } from './program'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

/** Whoever holds the link of these tests. */
const holder = `client-${Date.now()}@post.example`

interface Edges<Node> {
  edges: { node: Node }[]
}

/** A job with an issued report that nobody asked money for, and a fresh link to the report. */
async function sharedReport(context: BrowserContext): Promise<{ job: string; link: string }> {
  const { reports } = await ask<{ reports: Edges<{ id: string; state: string }> }>(context, 'ReportsPage')
  for (const { node } of reports.edges.filter(({ node }) => node.state === 'issued')) {
    const { report } = await ask<{ report: { job: { id: string } } }>(context, 'ReportPage', { id: node.id })
    const { jobMoney } = await ask<{ jobMoney: { held: boolean; owesMinor: number; releaseOnPayment: boolean } }>(
      context,
      'JobMoney',
      { job: report.job.id },
    )
    if (jobMoney.owesMinor > 0 || jobMoney.releaseOnPayment) continue
    const { job } = await ask<{ job: { client: { name: string } | null } }>(context, 'JobPage', { id: report.job.id })
    if (!job.client) continue
    const { shareReport } = await program<{ shareReport: { link: string } }>(
      context,
      'mutation($input: ShareReportInput!) { shareReport(input: $input) { link } }',
      {
        mutation: newId('mut'),
        id: newId('shr'),
        report: node.id,
        name: job.client.name,
        email: holder,
        until: new Date(Date.now() + 20 * 86_400_000).toISOString(),
      },
    )
    return { job: report.job.id, link: new URL(shareReport.link).pathname }
  }
  throw new Error('the demo has no issued report that is paid for')
}

async function client(page: Page, link: string): Promise<string> {
  await page.goto(link)
  await settle(page)
  return (await page.locator('main').textContent()) ?? ''
}

it('an invoice is issued, the report’s link waits for it, is paid, and opens', { timeout: 240_000 }, async () => {
  const { context, page, faults } = await open(browser)
  await signIn(page, 'office')
  const { job, link } = await sharedReport(context)
  const outside = await open(browser, { size: 'phone' })
  expect(await client(outside.page, link)).toContain('Download PDF')

  await page.goto(`/jobs/${job}`)
  await settle(page)
  await page.getByRole('button', { name: 'Hold links to the reports until it is paid' }).click()
  await page.getByRole('button', { name: 'Invoice', exact: true }).click()
  await page.waitForURL('**/invoices/**')
  await page.getByRole('button', { name: 'Change the draft' }).click()
  await page.getByRole('button', { name: 'Add work' }).click()
  await page.getByRole('group').last().getByLabel('For').fill('Second visit')
  await page.getByRole('group').last().getByLabel('Price').fill('100,50')
  await page.getByRole('button', { name: 'Add mileage' }).click()
  await page.getByRole('group').last().getByLabel('Quantity').fill('86')
  await page.getByRole('button', { name: 'Add an expense' }).click()
  await page.getByRole('group').last().getByLabel('For').fill('Ferry, as paid')
  await page.getByRole('group').last().getByLabel('Price').fill('34,20')
  await page.getByRole('button', { name: 'Keep the draft' }).click()
  await page.getByRole('button', { name: 'Issue it' }).click()
  await page.getByRole('button', { name: 'Note a payment' }).waitFor()
  expect(await page.locator('h1').textContent()).toMatch(/^Invoice EB-\d{4}-\d{4}$/)

  expect(await client(outside.page, link)).toContain('is issued')
  expect(await client(outside.page, link)).not.toContain('Download PDF')
  const pdf = await outside.context.request.get(`/share/${link.split('/').pop()}/report.pdf`)
  expect(pdf.status()).toBe(403)
  const bill = await context.request.get(`${new URL(page.url()).pathname}/invoice.pdf`)
  expect((await bill.body()).subarray(0, 8).toString()).toBe('%PDF-1.7')
  expect((await outside.context.request.get(`${new URL(page.url()).pathname}/invoice.pdf`)).status()).toBe(401)

  await page.getByRole('button', { name: 'Note a payment' }).click()
  await page.getByRole('button', { name: 'Keep the payment' }).click()
  await page.getByRole('dialog').waitFor({ state: 'detached' })
  await page.getByText(/: paid /).waitFor()
  const told = await mailTo(context, holder, /is open to you/)
  expect(told.body).toContain('opens it now')
  expect(told.body).not.toContain(link)
  expect(await client(outside.page, link)).toContain('Download PDF')

  await page.goto('/money?show=issued')
  await settle(page)
  const csv = await context.request.get('/money/invoices.csv?from=2020-01-01&to=2099-12-31')
  expect(csv.headers()['content-type']).toContain('text/csv')
  const book = await csv.text()
  for (const row of [
    'number,kind,dated',
    'mileage,Way to the yard and back,86.00,km',
    'expense,"Ferry, as paid",1.00,,34.20',
  ])
    expect(book).toContain(row)
  const stranger = await outside.context.request.get('/money/invoices.csv?from=2020-01-01&to=2099-12-31')
  expect(stranger.status()).toBe(401)
  expect(faults).toEqual([])
  expect(outside.faults).toEqual([])
  await context.close()
  await outside.context.close()
})

it('a notice is told, read and marked, by keyboard', { timeout: 120_000 }, async () => {
  const { context, page, faults } = await open(browser)
  await signIn(page, 'principal')
  await page.goto('/notices')
  await settle(page)
  const fresh = await page.locator('li[data-new]').count()
  expect(fresh).toBeGreaterThan(0)
  const mark = page.getByRole('button', { name: 'Mark these as read' })
  await mark.focus()
  await page.keyboard.press('Enter')
  await mark.waitFor({ state: 'detached' })
  expect(await page.locator('li[data-new]').count()).toBe(0)
  expect(faults).toEqual([])
  await context.close()
})

it('the page that ends mails asks first, and says so of an address that ends nothing', {
  timeout: 60_000,
}, async () => {
  const { context, page } = await open(browser, { size: 'phone' })
  await page.goto(`/unsubscribe/${'a'.repeat(43)}`)
  await page.getByRole('button', { name: 'End the mails' }).click()
  await page.getByRole('alert').waitFor()
  const pressed = await context.request.post(`/unsubscribe/${'a'.repeat(43)}`, {
    form: { 'List-Unsubscribe': 'One-Click' },
  })
  expect(pressed.status()).toBe(404)
  await context.close()
})
