import type { Browser, Locator } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { ask, launch, mailTo, open, settle, signIn } from './open'
import { violations } from './violations'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

const adviceOf = async (context: Parameters<typeof ask>[0], name: string) => {
  const { vessels } = await ask<{ vessels: { edges: { node: { id: string } }[] } }>(context, 'VesselsPage', {
    search: name,
  })
  return `/vessels/${vessels.edges[0]?.node.id}/recommendations`
}

/** A draft of the notice, where none waits yet. */
async function drafted(sheet: Locator) {
  await sheet.getByRole('heading', { name: 'Notice of the danger' }).waitFor()
  const draft = sheet.getByRole('button', { name: /^Draft (a|another) notice$/ })
  if ((await draft.count()) > 0) await draft.click()
  await sheet.getByLabel('The notice', { exact: true }).waitFor()
}

describe('a danger', () => {
  it('is told to everybody who was spoken to, each with how and when, and to the client in writing', {
    timeout: 120_000,
  }, async () => {
    const { context, page, faults } = await open(browser, { size: 'phone' })
    await signIn(page, 'surveyor')
    await page.goto(await adviceOf(context, 'Ember Goose'))
    await settle(page)
    const row = page.locator('tr', { hasText: 'Shut the gas at the bottle' }).first()
    await row.getByRole('button').first().click()
    const sheet = page.getByRole('dialog')
    await drafted(sheet)
    await sheet.getByRole('button', { name: 'Spoken to; send it' }).click()
    await sheet.getByText('Say whom you spoke to.').waitFor()
    // The first field that is wrong has the focus: on a phone it stood out of sight.
    await expect
      .poll(() => sheet.getByLabel('You have spoken to').evaluate((it) => it === document.activeElement))
      .toBe(true)
    await sheet.getByText('The time of day, such as 14:05.').waitFor()
    const ago = (minutes: number) => new Date(Date.now() - minutes * 60_000).toTimeString().slice(0, 5)
    const foreman = `The foreman, ${Date.now()}`
    await sheet.getByLabel('You have spoken to').fill(foreman)
    await sheet.getByLabel('At what time today').fill(ago(new Date().getHours() > 0 ? 20 : 0))
    await sheet.getByLabel('E-mail, for the notice in writing').fill('foreman@quay.example')
    await sheet.getByRole('button', { name: 'Spoken to somebody else too' }).click()
    const second = sheet.getByRole('group', { name: 'Spoken to, 2' })
    await second.getByLabel('You have spoken to').fill('Her owner')
    await second.getByLabel('Who is').selectOption('client')
    await second.getByLabel('How').selectOption('by telephone')
    await second.getByLabel('At what time today').fill(ago(0))
    expect(await violations(page, true)).toEqual([])
    await sheet.getByRole('button', { name: 'Spoken to; send it' }).click()
    await sheet.getByText(`${foreman}, yard: spoken to in person`, { exact: false }).waitFor()
    await sheet.getByText('Her owner, client: spoken to by telephone', { exact: false }).first().waitFor()
    for (const to of ['foreman@quay.example', 'p.sarne@post.example']) {
      const { body } = await mailTo(context, to, /^Danger seen on Ember Goose$/)
      expect(body).toContain('Gas smelt in the locker')
      expect(body).not.toContain('Raised readings') // of this danger and of nothing else on board
    }
    expect(faults).toEqual([])
    await context.close()
  })

  it('is drafted by a trainee, who is told whom to ring', { timeout: 60_000 }, async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'trainee')
    await page.goto(await adviceOf(context, 'Ember Goose'))
    await settle(page)
    await page.locator('tr', { hasText: 'Shut the gas at the bottle' }).first().getByRole('button').first().click()
    const sheet = page.getByRole('dialog')
    await drafted(sheet)
    await sheet.getByText('Ring a surveyor of the practice at once', { exact: false }).waitFor()
    expect(await sheet.getByRole('button', { name: 'Spoken to; send it' }).count()).toBe(0)
    expect(faults).toEqual([])
    await context.close()
  })
})

describe('who was not there', () => {
  it('is not offered to say that it was seen done; who may not share is not offered to take a link back', {
    timeout: 90_000,
  }, async () => {
    const office = await open(browser)
    await signIn(office.page, 'office')
    await office.page.goto(await adviceOf(office.context, 'Lantern Jack'))
    await settle(office.page)
    await office.page.locator('tr', { hasText: 'Open two of them' }).getByRole('button').first().click()
    const now = office.page.getByLabel('It is now')
    await now.waitFor()
    const offered = await now.locator('option').allTextContents()
    expect(offered).toContain('claimed done')
    expect(offered).not.toContain('seen done')
    await office.page.getByText('Seen done is set by whoever was there and saw it.').waitFor()
    await office.context.close()

    const trainee = await open(browser)
    await signIn(trainee.page, 'trainee')
    const { reports } = await ask<{ reports: { edges: { node: { id: string; number: string } }[] } }>(
      trainee.context,
      'ReportsPage',
    )
    const report = reports.edges.find(({ node }) => node.number === '2023-001')?.node.id
    await trainee.page.goto(`/reports/${report}`)
    await settle(trainee.page)
    await trainee.page.getByText('A. Ferrant', { exact: false }).first().waitFor()
    expect(await trainee.page.getByRole('button', { name: /^take it back: the link/ }).count()).toBe(0)
    expect([...office.faults, ...trainee.faults]).toEqual([])
    await trainee.context.close()
  })
})

describe('a letter to an insurer or lender', () => {
  it('says only what was seen, and gives an invoice no day that it may not bear', { timeout: 120_000 }, async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'surveyor')
    const advice = await adviceOf(context, 'Old Vesper')
    await page.goto(advice)
    await settle(page)
    await page.locator('tr', { hasText: 'Open the stock tube' }).first().getByRole('button').first().click()
    const sheet = page.getByRole('dialog')
    const words = `Yard invoice, stock tube, ${Date.now()}`
    await sheet.getByRole('radio', { name: 'Invoice' }).click()
    await sheet.getByLabel('Whose, and what it says').fill(words)
    await sheet
      .getByLabel('The invoice itself', { exact: false })
      .setInputFiles({ name: 'invoice.pdf', mimeType: 'application/pdf', buffer: Buffer.from('%PDF-1.4\n%%EOF\n') })
    // The store of files is away: what was typed stays, and it says what to do.
    await context.route('**', (route) =>
      route.request().method() === 'PUT' ? route.abort('connectionrefused') : route.fallback(),
    )
    await sheet.getByRole('button', { name: 'Add it' }).click()
    await sheet.getByText('check the connection and send it again', { exact: false }).waitFor()
    await context.unroute('**')
    await sheet.getByRole('button', { name: 'Add it' }).click()
    await sheet.locator('li', { hasText: words }).getByRole('link', { name: 'the file' }).waitFor()
    await page.keyboard.press('Escape')

    await page.getByRole('button', { name: 'Write to an insurer or lender' }).click()
    await sheet.getByLabel('To', { exact: true }).fill('Skerrow Mutual')
    await sheet.getByLabel('For the client of job').selectOption({ index: 1 })
    expect(await sheet.getByLabel('For the client of job').textContent()).toMatch(/, for /)
    await sheet.getByRole('button', { name: 'Write it' }).click()
    await page.waitForURL('**/letters/ltr_*')
    const line = page.locator('main li', { hasText: 'Open the stock tube' })
    await line.waitFor()
    const said = (await line.textContent()) ?? ''
    expect(said).toContain('this practice has seen nothing done about it')
    expect(said).toMatch(/An invoice was shown on .*; it tells what was charged, not what was done\./)
    expect(said).toContain(words)
    expect(faults).toEqual([])
    await context.close()
  })
})
