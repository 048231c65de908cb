import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { dayIn, dayNumber, dayOf, instantOf } from '../../src/model/dates'
import { ask, launch, mailTo, open, settle, signIn } from './open'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

/** Types a day into a field of days, part by part, by keyboard. */
async function typeDay(page: Page, label: string, day: string) {
  const [year = '', month = '', date = ''] = day.split('-')
  await page.getByRole('dialog').getByRole('group', { name: label }).getByRole('spinbutton').first().click()
  await page.keyboard.type(`${date}${month}${year}`)
}

/** Places a visit, led by somebody; what stands against it is let pass with a reason, where anything does. */
async function place(page: Page, lead: string) {
  const form = page.getByRole('dialog')
  const whys = form.getByLabel(/^Why all the same/)
  await form.getByRole('radio', { name: new RegExp(`^${lead}`) }).check()
  await page.waitForLoadState('networkidle')
  for (const why of await whys.all()) await why.fill('agreed on the telephone')
  await form.getByRole('button', { name: 'Place it' }).click()
}

/** The starts of the events of a feed, with what they are called. */
function events(ics: string): { start: string; summary: string }[] {
  const lines = ics.replace(/\r\n[ \t]/g, '')
  return lines
    .split('BEGIN:VEVENT')
    .slice(1)
    .map((part) => ({
      start: /^DTSTART[^:\r\n]*:(.*)$/m.exec(part)?.[1]?.trim() ?? '',
      summary: /^SUMMARY:(.*)$/m.exec(part)?.[1]?.trim() ?? '',
    }))
}

const utc = (instant: string) => instant.replace(/[-:]/g, '').replace(/\.\d+Z$/, 'Z')

it('an enquiry becomes a booked job with both visits, and the feed follows the lift', {
  timeout: 300_000,
}, async () => {
  const { context, page, faults } = await open(browser, { size: 'phone' })
  await signIn(page, 'principal')
  const once = Date.now().toString(36).slice(-5)
  const boat = `Grey Seal ${once}`
  const caller = `W. Calder ${once}`
  const email = `calder.${once}@post.example`

  // A call, written down while it lasts.
  await page.goto('/engagements/new')
  await page.getByLabel('Who asks').fill(caller)
  await page.getByLabel('How to reach them').fill(email)
  await page.getByLabel('The boat, as they call her').fill(boat)
  await page.getByLabel('Why').fill('Laid up wet for two winters.')
  await page.getByLabel('Kind of survey').selectOption('limited moisture')
  await page.getByRole('button', { name: 'Keep the enquiry' }).click()
  await page.waitForURL('**/engagements/eng_*')
  await page.getByRole('link', { name: 'The boat is not known yet.' }).waitFor()

  await page.getByRole('button', { name: 'Make the caller the client' }).click()
  await page.getByRole('dialog').getByRole('button', { name: 'Add' }).click()
  await page.getByRole('dialog').waitFor({ state: 'detached' })
  await page.getByRole('button', { name: 'Add her as a new boat' }).click()
  await page.getByRole('dialog').getByRole('button', { name: 'Add' }).click()
  await page.getByRole('dialog').waitFor({ state: 'detached' })

  await page.getByText('Nobody but the client is known to the practice with this boat.').waitFor()
  await page.getByRole('button', { name: 'Decide' }).click()
  await page.getByText('Taken on', { exact: false }).waitFor()

  await page.getByLabel('For', { exact: true }).fill('Two visits, wet and dry')
  await page.getByLabel('Before tax').fill('480')
  await page.getByLabel('Tax', { exact: true }).fill('23')
  await page.getByRole('button', { name: 'Keep the quote' }).click()
  await page.getByText('€590.40').waitFor()

  await page.getByLabel('E-mail').fill(email)
  await page.getByRole('button', { name: 'Send the offer' }).click()
  await page.getByText('The offer is on its way.', { exact: false }).waitFor()

  // The client reads it by the link of the letter and types its code.
  const body = (await mailTo(context, email)).body
  const token = /\/t\/([\w-]{43})/.exec(body)?.[1]
  const code = /on that page: ([A-Z2-9]{4}-[A-Z2-9]{4})/.exec(body)?.[1]
  expect(token && code).toBeTruthy()
  const client = await open(browser, { size: 'phone' })
  await client.page.goto(`/t/${token}`)
  await client.page.getByRole('heading', { name: boat }).waitFor()
  await client.page.getByLabel('Your name').fill(caller)
  await client.page.getByLabel('The code from the letter').fill(code ?? '')
  await client.page.getByRole('button', { name: 'Accept these terms' }).click()
  await client.page.getByText(`Accepted by ${caller}`, { exact: false }).waitFor()
  expect(client.faults).toEqual([])
  await client.context.close()

  await page.reload()
  await page.getByRole('heading', { name: 'Nothing stands against booking it' }).waitFor()
  await page.getByRole('button', { name: 'Book it' }).click()
  await page.waitForURL('**/jobs/job_*')
  await page.getByRole('link', { name: 'Nobody has been asked yet for leave: scraping coatings.' }).waitFor()
  await page.getByText('Terms accepted', { exact: false }).waitFor()

  const { viewer } = await ask<{ viewer: { member: { name: string } } }>(context, 'Viewer')

  // Both visits hang on a lift that is planned from here.
  const { parties } = await ask<{ parties: { edges: { node: { id: string; timeZone: string | null } }[] } }>(
    context,
    'HaulOutChoices',
  )
  const yard = parties.edges[0]?.node
  const zone = yard?.timeZone ?? 'UTC'
  const lift = dayOf(dayNumber(dayIn(Date.now(), zone)) + 75)
  const leave = page.getByRole('dialog')
  await page.getByRole('button', { name: 'Note a permission' }).click()
  await leave.getByText('Lift', { exact: true }).click()
  await leave.getByText('Photograph', { exact: true }).click()
  await leave.getByText('Given', { exact: true }).click()
  await leave.getByLabel('Or somebody else, by name').fill('the owner, by telephone')
  await leave.getByRole('button', { name: 'Write down' }).click()
  await leave.waitFor({ state: 'detached' })
  for (const what of ['Lift', 'Photograph'])
    await page.getByRole('listitem').filter({ hasText: what }).getByText('by the owner, by telephone').waitFor()
  await page.getByRole('button', { name: 'Plan her lift' }).click()
  await page.getByLabel('Yard', { exact: true }).selectOption(yard?.id ?? '')
  await typeDay(page, 'Lift', lift)
  await page.getByLabel('Lift, time of day').fill('10:00')
  await page.getByText('Asked of the yard, and not yet agreed').click()
  await page.getByRole('button', { name: 'Plan it' }).click()
  await page.getByText('Linked to the lift of', { exact: false }).waitFor()
  for (const kind of ['wet look', 'meter visit']) {
    await page.getByRole('button', { name: new RegExp(`^Put in the diary ?: ${kind}`) }).click()
    await place(page, viewer.member.name)
    await page.getByRole('button', { name: new RegExp(`^Put in the diary ?: ${kind}`) }).waitFor({ state: 'detached' })
  }

  // The lift moves by nine days, and both visits with it.
  await page.getByRole('button', { name: 'Move the lift' }).click()
  await typeDay(page, 'Lift on', dayOf(dayNumber(lift) + 9))
  await page.getByLabel('Why', { exact: true }).fill('the crane is away')
  await page.getByRole('button', { name: /^Move the lift and 2 things/ }).click()
  await page.getByRole('button', { name: 'Good' }).click()
  await page.getByRole('dialog').waitFor({ state: 'detached' })

  // The surveyor's feed, by an address made anew, shows where they went.
  await page.goto('/settings')
  await settle(page)
  await page.getByRole('button', { name: /^Make (the|a new) address/ }).click()
  const address = await page.getByLabel('Secret address').inputValue()
  const feed = await context.request.get(new URL(address).pathname)
  expect(feed.headers()['content-type']).toContain('text/calendar')
  const ours = events(await feed.text()).filter(({ summary }) => summary.includes(boat))
  expect(ours.map(({ summary }) => summary.split(',')[0]?.replace('\\', ''))).toEqual(['Wet look', 'Meter visit'])
  expect(ours[0]?.start).toBe(utc(instantOf(dayOf(dayNumber(lift) + 9), '10:00', zone)))
  expect((ours[1]?.start ?? '') > utc(instantOf(dayOf(dayNumber(lift) + 9), '10:00', zone))).toBe(true)
  expect(faults).toEqual([])
  await context.close()
})
