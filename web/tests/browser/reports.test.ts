import { execFileSync } from 'node:child_process'
import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/model/id'
import { ask, demo, launch, open, settle, signIn } from './open'
import { picture } from './picture'
import { violations } from './violations'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())
const slow = { timeout: 30_000 }

/** A fresh draft of a job that the demonstration has open, by the button of its page. */
async function freshDraft(context: BrowserContext, page: Page, boat: string): Promise<string> {
  const { jobs } = await ask<{ jobs: { edges: { node: { id: string; vessel: { name: string } } }[] } }>(
    context,
    'JobsPage',
    { open: true, mine: false },
  )
  const job = jobs.edges.find(({ node }) => node.vessel.name === boat)?.node
  if (!job) throw new Error(`the demo has no open job of ${boat}`)
  await page.goto(`/jobs/${job.id}`)
  await settle(page)
  await page.getByRole('button', { name: 'Draft a report' }).click()
  await page.waitForURL('**/reports/rep_*')
  await page.getByLabel('What was asked').waitFor()
  await settle(page)
  return new URL(page.url()).pathname
}

/** A photo taken on a phone-sized page at a visit of a boat's open job, with its place on the hull. */
async function photograph(browser: Browser, boat: string, caption: string, place: string) {
  const { context, page, faults } = await open(browser, { size: 'phone' })
  await signIn(page, 'surveyor')
  const { jobs } = await ask<{ jobs: { edges: { node: { id: string; vessel: { name: string } } }[] } }>(
    context,
    'JobsPage',
    { open: true, mine: false },
  )
  const id = jobs.edges.find(({ node }) => node.vessel.name === boat)?.node.id
  const { job } = await ask<{ job: { visits: { id: string; passes: unknown[] }[] } }>(context, 'JobPage', { id })
  const visit = job.visits.find(({ passes }) => passes.length > 0)?.id
  await page.goto(`/visits/${visit}`)
  await settle(page)
  const before = await page.getByRole('img', { name: 'Photo without a caption' }).count()
  await page
    .getByLabel('Add photos')
    .setInputFiles([{ name: 'phone.jpg', mimeType: 'image/jpeg', buffer: await picture(page) }])
  await page.waitForTimeout(3000) // it is on its way: a page that is left while it sends begins anew
  await expect
    .poll(
      async () => {
        await page.reload()
        await settle(page)
        return page.getByRole('img', { name: 'Photo without a caption' }).count()
      },
      { timeout: 60_000, interval: 4000 },
    )
    .toBe(before + 1)
  await page
    .getByRole('button', { name: /no caption/ })
    .last()
    .click()
  await page.getByLabel('Caption', { exact: true }).fill(caption)
  await page.getByLabel('At place', { exact: true }).fill(place)
  await page.getByRole('button', { name: 'Keep', exact: true }).click()
  await page.getByRole('dialog').waitFor({ state: 'hidden' })
  expect(faults).toEqual([])
  await context.close()
}

/** The words of a PDF as a reader program finds them. */
function textOf(pdf: Buffer): string {
  const file = join(mkdtempSync(join(tmpdir(), 'report-')), 'report.pdf')
  writeFileSync(file, pdf)
  return execFileSync('pdftotext', [file, '-'], { encoding: 'utf8' }).replace(/\s+/g, ' ')
}

const kept = (page: Page) => expect.poll(() => page.getByText('All of it is kept.').count(), slow).toBe(1)

describe('a report, from the practice’s wording to its PDF', () => {
  it('is composed, looked through by another, held back by a gap, and issued', { timeout: 300_000 }, async () => {
    // A principal writes a wording with a placeholder that nothing stands for, and one that something does.
    const principal = await open(browser)
    await signIn(principal.page, 'principal')
    await principal.page.goto('/settings/wordings')
    await settle(principal.page)
    await principal.page.getByRole('button', { name: 'Write a wording' }).click()
    const sheet = principal.page.getByRole('dialog')
    const title = `Who was there, ${new Date().toISOString()}` // the demonstration may have one already
    await sheet.getByLabel('Heading').fill(title)
    await sheet.getByLabel('Text').fill('{vessel} was shown to us by {harbour master}.')
    await sheet.getByRole('button', { name: 'Keep it' }).click()
    await expect.poll(() => principal.page.getByRole('heading', { name: title }).count(), slow).toBe(1)

    // The surveyor's new draft begins with it; what is empty is said, and what says too much is warned of.
    const writer = await open(browser)
    await signIn(writer.page, 'surveyor')
    const caption = `Stain below the outlet, ${Date.now()}`
    await photograph(browser, 'Wych Elm', caption, 'port 2/1')
    const address = await freshDraft(writer.context, writer.page, 'Wych Elm')
    const section = writer.page.getByLabel(`Text of ${title}`, { exact: true })
    expect(await section.inputValue()).toContain('{vessel} was shown to us')
    expect(await writer.page.getByText('Nothing is kept for {harbour master}.').count()).toBeGreaterThan(0)
    expect(
      await writer.page.getByText(`${title}: there is no placeholder {harbour master}`, { exact: false }).count(),
    ).toBe(1)
    expect(await writer.page.getByText('Wych Elm was shown to us by [harbour master].').count()).toBeGreaterThan(0)
    // It is proposed no more: the draft keeps the words that it was given, and other drafts begin without them.
    await principal.page.getByRole('button', { name: `change it ${title}` }).click()
    await sheet.getByText('Propose it no more').click()
    await sheet.getByRole('button', { name: 'Keep it' }).click()
    await expect.poll(() => principal.page.getByText('proposed no more').count(), slow).toBeGreaterThan(0)
    await section.fill('{vessel} was shown to us by the yard. The hull is dry.')
    await kept(writer.page)
    await expect.poll(() => writer.page.getByText('No meter tells that a hull is dry.').count(), slow).toBe(1)
    expect(await section.inputValue()).toBe('{vessel} was shown to us by the yard. The hull is dry.')
    await section.fill('{vessel} was shown to us by the yard.')
    await kept(writer.page)
    await writer.page.getByRole('button', { name: 'Send it for review' }).click()
    await expect.poll(() => writer.page.getByText('No word has changed.').count(), slow).toBe(1)

    // The second person finds a gap: a comment on a statement, which stands in the way.
    await principal.page.goto(address)
    await settle(principal.page)
    await principal.page.getByRole('button', { name: 'Say something to it' }).click()
    const say = principal.page.getByRole('dialog')
    await say.getByLabel('Part').selectOption('limits')
    await say.getByLabel('Statement').selectOption({ index: 1 })
    await say.getByLabel('What is to be put right or asked').fill('The anchor locker was locked: say so.')
    await say.getByRole('button', { name: 'Say it' }).click()
    await expect.poll(() => principal.page.getByText('Still open, said by', { exact: false }).count(), slow).toBe(1)
    await principal.page.getByRole('button', { name: 'Take the second look' }).click()
    await expect.poll(() => principal.page.getByText('Second look:', { exact: false }).count(), slow).toBeGreaterThan(0)
    expect(await principal.page.getByRole('button', { name: 'Issue the report' }).isDisabled()).toBe(true)

    // The writer puts it right and says so; what changed since is shown side by side.
    await writer.page.reload()
    await settle(writer.page)
    await writer.page.getByLabel('Limits beyond what the record shows').fill('The anchor locker was locked.')
    await kept(writer.page)
    await writer.page.getByRole('button', { name: 'it is met' }).click()
    await expect.poll(() => writer.page.getByText('Still open, said by', { exact: false }).count(), slow).toBe(0)
    await writer.page.getByText('1 part changed in words').click()
    await expect
      .poll(() => writer.page.locator('ins').allTextContents(), slow)
      .toEqual([expect.stringContaining('anchor locker was locked.')])
    expect(writer.faults).toEqual([])

    // Words after the second look ask for another; then it is issued, and has its PDF.
    await principal.page.reload()
    await settle(principal.page)
    await principal.page.getByRole('button', { name: 'Take the second look' }).click()
    await expect.poll(() => principal.page.getByText('Nothing stands in the way.').count(), slow).toBe(1)
    await principal.page.getByRole('button', { name: 'Issue the report' }).click()
    await principal.page.getByRole('dialog').getByRole('button', { name: 'Issue it' }).click()
    await expect
      .poll(() => principal.page.getByRole('link', { name: 'Download PDF' }).count(), { timeout: 60_000 })
      .toBe(1)
    expect(await principal.page.getByText('Wych Elm was shown to us by the yard.').count()).toBe(1)
    const pdf = await principal.context.request.get(`${address}/report.pdf`)
    expect((await pdf.body()).subarray(0, 5).toString()).toBe('%PDF-')
    // The photo of the phone is in it, with the mark of its place on the hull's plate.
    const words = textOf(await pdf.body())
    expect(words).toMatch(new RegExp(`Photo \\d+\\. ${caption}\\. Place port 2/1, .*?\\(Plate \\d+\\)`))
    expect(words).toMatch(/Where it was found.*On it: .*Photo \d+/)
    expect((await principal.context.request.get(`${address}/draft.pdf`)).status()).toBe(404)
    expect(principal.faults).toEqual([])
    await writer.context.close()
    await principal.context.close()
  })
})

describe('a valuation', () => {
  it('is held back until a value stands in it, and leads to where it is written', { timeout: 120_000 }, async () => {
    const { context, page, faults } = await open(browser)
    const other = demo().signIns.find(({ practice }) => practice !== demo().signIns[0]?.practice)?.practice
    await signIn(page, 'principal', other)
    await freshDraft(context, page, 'Small Mercy')
    const gap = page.getByRole('link', { name: 'A valuation without a value', exact: false })
    await gap.waitFor()
    expect(await page.getByRole('button', { name: 'Issue the report' }).isDisabled()).toBe(true)
    const draft = page.url()
    await gap.click()
    await page.getByRole('button', { name: 'Write down a value' }).click()
    await page.getByLabel('Figure').fill('42 000')
    await page.getByLabel('Basis').fill('sale between willing parties, as she lies')
    await page.getByLabel('Comparables').fill('a like boat of 2012: 39 500, sold in June')
    await page.getByRole('button', { name: 'Keep', exact: true }).click()
    await page.getByText('An opinion of value on that day.', { exact: false }).waitFor()
    await page.goto(draft)
    await settle(page)
    expect(await gap.count()).toBe(0)
    await page.getByText('sold in June', { exact: false }).waitFor()
    expect(faults).toEqual([])
    await context.close()
  })
})

describe('a practice with one who signs', () => {
  it('takes a self-check after a pause, and not before', { timeout: 120_000 }, async () => {
    const { context, page, faults } = await open(browser)
    const other = demo().signIns.find(({ practice }) => practice !== demo().signIns[0]?.practice)?.practice
    await signIn(page, 'principal', other)
    const asked = page.getByRole('checkbox', { name: 'A second person looks at every draft', exact: false })
    const ask = async (wanted: boolean) => {
      await page.goto('/settings')
      await settle(page)
      if ((await asked.isChecked()) !== wanted) await page.getByText('A second person looks at every draft').click()
      await page.getByRole('button', { name: 'Keep the settings' }).click()
      await page.getByText('Kept.').first().waitFor()
    }
    await ask(true)
    await freshDraft(context, page, 'Small Mercy')
    await page.getByLabel('In short, before what the figures say').fill('A tidy boat for her age.')
    await kept(page)
    await page.getByText('Nobody else signs here: a self-check counts from', { exact: false }).waitFor()
    await page.getByRole('button', { name: 'Take the self-check' }).click()
    await page.getByText('Let it lie first:', { exact: false }).waitFor()
    expect(await page.getByRole('button', { name: 'Issue the report' }).isDisabled()).toBe(true)
    await ask(false)
    expect(faults).toEqual([])
    await context.close()
  })
})

describe('the composer', () => {
  it('loses no word: without a connection, over a closed page, and where two write at once', {
    timeout: 240_000,
  }, async () => {
    const { context, page, faults } = await open(browser, { size: 'phone' })
    await signIn(page, 'surveyor')
    const address = await freshDraft(context, page, 'Tamsel')
    await context.setOffline(true)
    await page.getByLabel('What was asked').fill('Moisture of the underbody, written in the van.')
    await expect.poll(() => page.getByText('kept on this device', { exact: false }).count(), slow).toBe(1)
    await context.setOffline(false)
    await page.reload()
    await settle(page)
    expect(await page.getByLabel('What was asked').inputValue()).toBe('Moisture of the underbody, written in the van.')
    await kept(page)

    // Somebody else writes in the same field, and in another one: the other is merged, this one is asked about.
    const { report } = await ask<{ report: { id: string; version: number } }>(context, 'DraftWords', {
      id: address.split('/').at(-1),
    })
    await context.setOffline(true)
    await page.getByLabel('What was asked').fill('Mine.')
    await page.getByLabel('Limits beyond what the record shows').fill('My limits.')
    const other = await open(browser)
    await signIn(other.page, 'principal')
    await ask(other.context, 'EditReport', {
      input: {
        mutation: newId('mut'),
        id: report.id,
        version: report.version,
        scope: 'Theirs.',
        inShort: 'Their first words.',
      },
    })
    await other.context.close()
    await context.setOffline(false)
    await expect.poll(() => page.getByText('Meanwhile somebody else wrote here:').count(), slow).toBe(1)
    expect(await page.getByText('Theirs.', { exact: true }).count()).toBe(1)
    expect(await page.getByLabel('In short, before what the figures say').inputValue()).toBe('Their first words.')
    await page.getByRole('button', { name: 'Keep mine' }).click()
    await kept(page)
    const { report: after } = await ask<{ report: Record<string, string> }>(context, 'DraftWords', { id: report.id })
    expect(after).toMatchObject({ scope: 'Mine.', limits: 'My limits.', inShort: 'Their first words.' })
    expect(faults.filter((fault) => !/offline|ERR_INTERNET/i.test(fault))).toEqual([])
    await context.close()
  })

  it('tells how to speak instead, and sends no sound itself', { timeout: 180_000 }, async () => {
    const { context, page, faults } = await open(browser)
    const elsewhere: string[] = []
    context.on('request', (request) => {
      if (/^https?:/.test(request.url()) && new URL(request.url()).hostname !== new URL(demo().address).hostname)
        elsewhere.push(request.url())
    })
    await signIn(page, 'surveyor')
    await freshDraft(context, page, 'Tamsel')
    const scope = page.getByLabel('What was asked')
    expect(await scope.getAttribute('spellcheck')).toBe('true')
    expect(await scope.getAttribute('lang')).toBe('en-GB')
    await page.getByText('Speaking instead of typing').click()
    await page.getByText('use the microphone key of the device’s own keyboard', { exact: false }).waitFor()
    expect(await page.getByRole('button', { name: 'Speak', exact: true }).count()).toBe(0)
    expect(elsewhere).toEqual([])
    expect(faults).toEqual([])
    await context.close()
  })

  it('works by keyboard alone, and axe finds nothing', { timeout: 180_000 }, async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'surveyor')
    await freshDraft(context, page, 'Tamsel')
    await page.getByLabel('Another section').focus()
    await page.keyboard.press('Tab')
    await page.keyboard.press('Enter')
    const heading = page.getByLabel(/^Heading of section/).last()
    await expect.poll(() => heading.inputValue(), slow).toBe('Another section')
    await heading.focus()
    await page.keyboard.press('Control+A')
    await page.keyboard.type('Keel bolts')
    await kept(page)
    await page.keyboard.press('Tab')
    while ((await page.evaluate(() => document.activeElement?.tagName)) !== 'TEXTAREA') await page.keyboard.press('Tab')
    await page.keyboard.type('Tapped, not drawn.')
    await kept(page)
    await expect.poll(() => page.getByRole('heading', { name: 'Keel bolts' }).count(), slow).toBeGreaterThan(0)
    expect(await violations(page, true)).toEqual([])
    expect(faults).toEqual([])
    await context.close()
  })
})
