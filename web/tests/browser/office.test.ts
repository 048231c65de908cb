import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { day } from './keys'
import { ask, launch, mailTo, open, settle, signIn } from './open'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

interface Edges<Node> {
  edges: { node: Node }[]
}

it('two entries of one person are put side by side by keyboard, made one, and two again', {
  timeout: 240_000,
}, async () => {
  const { context, page, faults } = await open(browser)
  await signIn(page, 'office')
  await page.goto('/people')
  await settle(page)
  await page.getByRole('link', { name: 'Entered twice?' }).focus()
  await page.keyboard.press('Enter')
  await settle(page)
  const pair = page.getByRole('listitem').filter({ hasText: 'Anneke Ferrant' }).first()
  await pair.getByText('The same telephone number.').waitFor()
  await pair.getByRole('link', { name: 'Side by side' }).focus()
  await page.keyboard.press('Enter')
  await page.getByRole('heading', { name: 'What speaks against' }).waitFor()
  const stays = page.getByRole('radio', { name: 'A. Ferrant' })
  await stays.focus()
  await page.keyboard.press('Space')
  await page.getByRole('button', { name: 'Make them one' }).press('Enter')
  await page.getByText('Say how you know that they are one').waitFor()
  await page.getByLabel('How you know that they are one').fill('she said so at the quay')
  await page.keyboard.press('Enter')
  await page.getByText('went into A. Ferrant').waitFor()
  const { parties } = await ask<{ parties: Edges<{ name: string }> }>(context, 'PeoplePage', { search: 'ferrant' })
  expect(parties.edges.map(({ node }) => node.name)).toEqual(['A. Ferrant'])

  await page
    .getByRole('button', { name: /They are two after all/ })
    .first()
    .press('Enter')
  const why = `a cousin, ${Date.now()}`
  await page.getByLabel('Why they are two').fill(why)
  await page.keyboard.press('Enter')
  await page.getByRole('dialog').waitFor({ state: 'detached' })
  await page.getByText(why).waitFor()
  const after = await ask<{ parties: Edges<{ name: string }> }>(context, 'PeoplePage', { search: 'ferrant' })
  expect(after.parties.edges.map(({ node }) => node.name).sort()).toEqual(['A. Ferrant', 'Anneke Ferrant'])
  expect(faults).toEqual([])
  await context.close()
})

it('somebody is asked to one visit by mail, with the visit for the calendar', { timeout: 180_000 }, async () => {
  const { context, page, faults } = await open(browser)
  await signIn(page, 'office')
  const { board } = await ask<{ board: { visits: { id: string; state: string; open: boolean }[] } }>(
    context,
    'BoardPage',
    { from: new Date().toISOString(), to: new Date(Date.now() + 60 * 86_400_000).toISOString() },
  )
  const visit = board.visits.find(({ state, open }) => state === 'planned' && open)
  if (!visit) throw new Error('the demo plans no visit')
  await page.goto(`/visits/${visit.id}`)
  await settle(page)
  const email = `rigger-${Date.now()}@post.example`
  await page.getByRole('button', { name: 'Ask somebody to it' }).press('Enter')
  await page.getByLabel('Name').fill('O. Halyard')
  await page.getByLabel('E-mail').fill('no address')
  await page.getByRole('button', { name: 'Send the invitation' }).press('Enter')
  await page.locator('.field.invalid').waitFor()
  await page.getByLabel('E-mail').fill(email)
  await page.getByRole('button', { name: 'Send the invitation' }).press('Enter')
  await page.getByRole('dialog').waitFor({ state: 'detached' })
  await page.getByText(email).waitFor()
  const mail = await mailTo(context, email)
  expect(mail.body).toContain('O. Halyard,')
  expect(mail.body).toContain('you are asked to')
  for (const line of ['METHOD:REQUEST', 'BEGIN:VEVENT', 'STATUS:CONFIRMED', `UID:${visit.id}`])
    expect(mail.body).toContain(line)
  expect(faults).toEqual([])
  await context.close()
})

it('the list of jobs leads with what has to be done first; what is issued has a view of its own', {
  timeout: 120_000,
}, async () => {
  const { context, page, faults } = await open(browser)
  await signIn(page, 'principal')
  interface Listed {
    edges: { node: { stage: string }; next: { on: string | null; since: string | null } | null }[]
  }
  const view = async (variables: object) =>
    (await ask<{ jobs: Listed }>(context, 'JobsPage', { open: false, issued: false, mine: false, ...variables })).jobs
      .edges
  const opened = await view({ open: true })
  const days = opened.map(({ next, node }) => {
    expect(['issued', 'closed', 'cancelled']).not.toContain(node.stage)
    return next?.on ?? next?.since ?? '9999-12-31'
  })
  expect(days.length).toBeGreaterThan(5)
  expect(days).toEqual([...days].sort())
  const stages = (await view({ issued: true })).map(({ node }) => node.stage)
  expect([...new Set(stages)]).toEqual(['issued'])

  await page.goto('/jobs')
  await settle(page)
  const rows = page.getByRole('table', { name: 'Jobs' }).locator('tbody tr')
  expect(await rows.count()).toBe(opened.length)
  await page.getByRole('radio', { name: 'Issued' }).focus()
  await page.keyboard.press('Space')
  await page.waitForURL('**/jobs?which=issued')
  await page.getByText('the report is out and the job not closed', { exact: false }).waitFor()
  await expect.poll(() => rows.count()).toBe(stages.length)
  expect(faults).toEqual([])
  await context.close()
})

it('a paper that only authorised persons issue is kept, and nothing offers to make one', {
  timeout: 180_000,
}, async () => {
  const { context, page, faults } = await open(browser)
  await signIn(page, 'office')
  const { jobs } = await ask<{ jobs: Edges<{ id: string; stage: string }> }>(context, 'JobsPage', {
    open: true,
    mine: false,
  })
  const job = jobs.edges.find(({ node }) => node.stage !== 'cancelled')?.node
  if (!job) throw new Error('the demo has no job')
  await page.goto(`/jobs/${job.id}`)
  await settle(page)
  await page.getByRole('button', { name: 'Keep a paper' }).press('Enter')
  const title = `Measurement ${Date.now()}`
  await page.getByRole('button', { name: 'Keep it' }).press('Enter')
  await page.getByText('Choose the file.').waitFor()
  const pdf = Buffer.from(
    '%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 72 72]>>endobj\ntrailer<</Root 1 0 R>>\n%%EOF\n',
  )
  await page
    .getByLabel('File, a PDF of 25 MB at most')
    .setInputFiles({ name: 'tonnage.pdf', mimeType: 'application/pdf', buffer: pdf })
  await page.getByLabel('Kind').selectOption('tonnage')
  await page.getByLabel('Title').fill(title)
  await page.getByLabel('Issued by').fill('The registry of the harbour')
  await page.getByRole('button', { name: 'Keep it' }).press('Enter')
  await page.getByRole('dialog').waitFor({ state: 'detached' })
  const kept = page.getByRole('link', { name: title })
  await kept.waitFor()
  const back = await context.request.get((await kept.getAttribute('href')) ?? '')
  expect(Buffer.compare(await back.body(), pdf)).toBe(0)
  for (const button of await page.getByRole('button').allTextContents())
    expect(button).not.toMatch(/(issue|make|write).*(tonnage|class|code)/i)
  expect(faults).toEqual([])
  await context.close()
})

it('a feed is made, copied, read, seen to be fetched, and ended', { timeout: 180_000 }, async () => {
  const { context, page, faults } = await open(browser)
  await context.grantPermissions(['clipboard-read', 'clipboard-write'])
  await signIn(page, 'surveyor')
  await page.goto('/settings')
  await settle(page)
  await page.getByRole('button', { name: /^Make (the|a new) address/ }).press('Enter')
  await page.getByRole('button', { name: 'Copy the address' }).press('Enter')
  await page.getByRole('button', { name: 'Copied' }).waitFor()
  const address = await page.getByLabel('Secret address').inputValue()
  expect(await page.evaluate(() => navigator.clipboard.readText())).toBe(address)
  const stranger = await browser.newContext()
  const feed = await stranger.request.get(address)
  expect(feed.status()).toBe(200)
  expect(feed.headers()['content-type']).toContain('text/calendar')
  const lines = (await feed.text()).split('\r\n')
  expect(lines[0]).toBe('BEGIN:VCALENDAR')
  expect(lines.every((line) => Buffer.byteLength(line) <= 75)).toBe(true)
  expect(lines.filter((line) => line === 'BEGIN:VEVENT').length).toBe(
    lines.filter((line) => line === 'END:VEVENT').length,
  )
  const { parties } = await ask<{ parties: Edges<{ name: string; isYard: boolean }> }>(context, 'PeoplePage', {})
  const clients = parties.edges.filter(({ node }) => !node.isYard).map(({ node }) => node.name)
  expect(clients.filter((name) => lines.join('').includes(name))).toEqual([]) // unless they are chosen
  const etag = feed.headers().etag
  expect((await stranger.request.get(address, { headers: { 'If-None-Match': etag ?? '' } })).status()).toBe(304)

  await page.reload()
  await settle(page)
  const row = page.getByRole('listitem').filter({ hasText: 'my visits' })
  await row.getByText('last fetched').waitFor()
  await row.getByRole('button', { name: /^End it/ }).press('Enter')
  await row.waitFor({ state: 'detached' })
  expect((await stranger.request.get(address)).status()).toBe(404)
  expect(faults).toEqual([])
  await stranger.close()
  await context.close()
})

it('how often a mail of what is new comes is chosen by keyboard and kept', { timeout: 120_000 }, async () => {
  const { context, page, faults } = await open(browser)
  await signIn(page, 'surveyor')
  await page.goto('/notices')
  await settle(page)
  const strip = page.getByRole('radiogroup', { name: 'What is new, in one mail' })
  const was = await strip.getByRole('radio', { checked: true }).textContent()
  const other = strip.getByRole('radio', { checked: false }).first()
  const next = await other.textContent()
  await other.press('Space')
  await strip.getByRole('radio', { checked: true, name: next ?? '' }).waitFor()
  await page.waitForLoadState('networkidle')
  await page.reload()
  await settle(page)
  expect(await strip.getByRole('radio', { checked: true }).textContent()).toBe(next)
  expect(next).not.toBe(was)
  expect(faults).toEqual([])
  await context.close()
})

it('a look that is due is declined or put off with a reason, and its recall is looked through and sent', {
  timeout: 180_000,
}, async () => {
  const { context, page, faults } = await open(browser)
  await signIn(page, 'office')
  await page.goto('/reinspections')
  await settle(page)
  const rows = page.getByRole('row').filter({ has: page.getByRole('button', { name: /^Recall/ }) })

  // The letter of the first that has somebody to write to, changed by hand before it goes.
  let sent = ''
  for (let k = 0; k < (await rows.count()) && !sent; k++) {
    await rows
      .nth(k)
      .getByRole('button', { name: /^Recall/ })
      .press('Enter')
    const dialog = page.getByRole('dialog')
    await dialog.getByText(/^To |does not know whom/).waitFor()
    const send = dialog.getByRole('button', { name: 'Send the letter' })
    if ((await send.count()) && (await send.isEnabled())) {
      const to = (await dialog.getByText(/^To /).textContent())?.split(', ').at(-1) ?? ''
      const subject = `Time for another look ${Date.now()}`
      await dialog.getByLabel('Subject').fill(subject)
      await send.press('Enter')
      await dialog.waitFor({ state: 'detached' })
      sent = (await mailTo(context, to, new RegExp(subject))).body
    } else {
      await page.keyboard.press('Escape')
      await dialog.waitFor({ state: 'detached' })
    }
  }
  expect(sent).not.toBe('')

  const before = Number(/\d+/.exec((await page.getByRole('radio', { name: /^Declined \d/ }).textContent()) ?? '')?.[0])
  await page
    .getByRole('button', { name: /^Move on/ })
    .first()
    .press('Enter')
  await page.getByRole('radio', { name: 'Declined', exact: true }).press('Space')
  await page.getByRole('button', { name: 'Write down' }).press('Enter')
  await page.locator('.field.invalid').waitFor()
  const why = `The owner sells her, ${Date.now()}.`
  await page.getByLabel('Who declined, and why').fill(why)
  await page.getByRole('button', { name: 'Write down' }).press('Enter')
  await page.getByRole('dialog').waitFor({ state: 'detached' })
  await page.getByRole('radio', { name: /^Declined/ }).press('Space')
  await page.getByText(why).waitFor()
  await page.getByRole('radio', { name: `Declined ${before + 1}`, checked: true }).waitFor()

  // Put off until a day, with why: it stands under those, and comes back by itself.
  await page
    .getByRole('button', { name: /^Move on/ })
    .first()
    .press('Enter')
  const dialog = page.getByRole('dialog')
  await dialog.getByRole('radio', { name: 'Put off' }).press('Space')
  await dialog.getByRole('button', { name: 'Write down' }).press('Enter')
  await dialog.locator('.field.invalid').first().waitFor()
  const later = `She is in the Azores, ${Date.now()}.`
  await dialog.getByLabel('Why').fill(later)
  await day(page, 'Until', new Date(Date.now() + 120 * 86_400_000).toISOString().slice(0, 10))
  await dialog.getByRole('button', { name: 'Write down' }).press('Enter')
  await dialog.waitFor({ state: 'detached' })
  await page.getByRole('radio', { name: /^Put off/ }).press('Space')
  await page.getByText(later).waitFor()
  expect(faults).toEqual([])
  await context.close()
})

it('a yard’s link shows its slots and nothing else, until it is ended', { timeout: 180_000 }, async () => {
  const { context, page, faults } = await open(browser)
  await signIn(page, 'office')
  const { parties } = await ask<{ parties: Edges<{ id: string; name: string; isYard: boolean }> }>(
    context,
    'PeoplePage',
    {},
  )
  const yard = parties.edges.find(({ node }) => node.isYard && node.name === 'Tarrow Slip')?.node
  if (!yard) throw new Error('the demo has no Tarrow Slip')
  const clients = parties.edges.filter(({ node }) => !node.isYard).map(({ node }) => node.name)
  await page.goto(`/yards/${yard.id}`)
  await settle(page)
  expect(await page.locator('a[href^="tel:"]').first().getAttribute('href')).toMatch(/^tel:\+?\d+$/)
  await page.getByRole('button', { name: 'Send a link' }).press('Enter')
  const email = `foreman-${Date.now()}@post.example`
  const dialog = page.getByRole('dialog')
  await dialog.getByLabel('For whom').fill('Foreman of the day')
  await dialog.getByLabel('E-mail').fill(email)
  await dialog.getByRole('button', { name: 'Send it' }).press('Enter')
  await dialog.getByText('It is on its way by mail').waitFor()
  await dialog.getByRole('button', { name: 'Close' }).press('Enter')
  await dialog.waitFor({ state: 'detached' })
  await page.getByText(email).first().waitFor()
  const link = /\/y\/[A-Za-z0-9_-]{43}/.exec((await mailTo(context, email)).body)?.[0]
  if (!link) throw new Error('the letter brings no link')

  const outside = await open(browser, { size: 'phone' })
  await outside.page.goto(link)
  await settle(outside.page)
  await outside.page.getByRole('heading', { name: 'Tarrow Slip' }).waitFor()
  const shown = (await outside.page.locator('main').textContent()) ?? ''
  for (const name of clients) expect(shown).not.toContain(name)
  expect(shown).not.toMatch(/gate|key|client|report|job \d/i)
  expect(await outside.page.locator('a[href^="/jobs"], a[href^="/vessels"], a[href^="/people"]').count()).toBe(0)

  await page.reload()
  await settle(page)
  await page
    .getByRole('listitem')
    .filter({ hasText: email })
    .getByRole('button', { name: /^End the link/ })
    .press('Enter')
  await page.getByRole('listitem').filter({ hasText: email }).getByText('ended').waitFor()
  await outside.page.reload()
  await outside.page.getByText(/opens nothing/).waitFor()
  expect(faults).toEqual([])
  await context.close()
  await outside.context.close()
})
