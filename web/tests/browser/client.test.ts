import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/model/id'
import { demo, launch, open, settle } from './open'
import { program } from './program'
import { violations } from './violations'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

interface Lines {
  reports: { edges: { node: { id: string; number: string; state: string; vessel: { name: string } } }[] }
}

/** Issued reports of two boats, each shared with the same address: their links. */
async function shared(context: BrowserContext, email: string): Promise<{ boat: string; link: string }[]> {
  const { reports } = await program<Lines>(
    context,
    '{ reports(first: 50) { edges { node { id number state vessel { name } } } } }',
  )
  const of = (boat: string) =>
    reports.edges.find(({ node }) => node.vessel.name === boat && /issued|amended/.test(node.state))?.node
  const made: { boat: string; link: string }[] = []
  for (const [boat, name] of [
    ['Tamsel', 'A. Ferrant'],
    ['Lantern Jack', 'N. Iver'],
  ] as const) {
    const { shareReport } = await program<{ shareReport: { link: string } }>(
      context,
      'mutation($input: ShareReportInput!) { shareReport(input: $input) { link } }',
      {
        mutation: newId('mut'),
        id: newId('shr'),
        report: of(boat)?.id,
        name,
        email,
        until: new Date(Date.now() + 20 * 86_400_000).toISOString(),
      },
    )
    made.push({ boat, link: new URL(shareReport.link).pathname })
  }
  return made
}

/** The code of the newest letter to an address, once it has been sent. */
async function codeTo(context: BrowserContext, email: string): Promise<string> {
  for (let turn = 0; turn < 60; turn++) {
    const answer = await context.request.get('/dev/mails', { headers: { Accept: 'application/json' } })
    const { mails } = (await answer.json()) as { mails: { to: string; body: string }[] }
    const code = mails
      .filter(({ to }) => to.includes(email))
      .map(({ body }) => /code on its page: ([A-Z0-9-]+)/.exec(body)?.[1])
      .find(Boolean)
    if (code) return code
    await new Promise((done) => setTimeout(done, 500))
  }
  throw new Error(`no code came to ${email}`)
}

/** Where the file of the newest answer may be fetched, once it has been made ready. */
async function fileOfAnswer(context: BrowserContext, link: string): Promise<string> {
  for (let turn = 0; turn < 60; turn++) {
    const answer = await context.request.get(`/share/${link.split('/').at(-1)}`, {
      headers: { Accept: 'application/json' },
    })
    const { data } = (await answer.json()) as { data: { report: { tasks: { answers: { file: string }[] }[] } } }
    const file = data.report.tasks.flatMap(({ answers }) => answers).at(-1)?.file
    if (file) return file
    await new Promise((done) => setTimeout(done, 500))
  }
  throw new Error('the file was never ready')
}

async function sound(page: Page) {
  await settle(page)
  expect(await violations(page, true)).toEqual([])
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
  expect(wide).toBe(0)
}

it('a client answers on a phone, opens an account and sees two boats', { timeout: 240_000 }, async () => {
  const { context, page, faults } = await open(browser, { size: 'phone' })
  const email = `l.harrack.${Date.now()}@post.example`
  const [tamsel] = await shared(context, email)
  if (!tamsel) throw new Error('nothing was shared')
  await page.goto(tamsel.link)
  await page.getByRole('heading', { name: 'Tamsel' }).waitFor()
  await sound(page)
  const task = page.getByRole('article').first()

  await task.getByRole('radio', { name: 'Decline' }).click()
  const sheet = page.getByRole('dialog')
  await sheet.getByRole('button', { name: 'Send me the code' }).click()
  await sheet.getByText('A letter with a code is on its way', { exact: false }).waitFor()
  await sound(page)
  await sheet.getByLabel('The code from the letter').fill('AAAA-AAAA')
  await sheet.getByRole('button', { name: 'Send the answer' }).click()
  await sheet.getByText('Say why.').waitFor()
  await sheet.getByLabel('Why').fill('Not before the boat is lifted.')
  await sheet.getByRole('button', { name: 'Send the answer' }).click()
  await sheet.getByText('This is not the code', { exact: false }).waitFor()
  await sheet.getByLabel('The code from the letter').fill(await codeTo(context, email))
  await sheet.getByRole('button', { name: 'Send the answer' }).click()
  await page.getByText('You declined', { exact: false }).waitFor()

  // The code was taken: with a photo it is not asked for again.
  await task.getByRole('radio', { name: 'It is done' }).click()
  await sheet
    .locator('input[type=file]')
    .setInputFiles({ name: 'drain.png', mimeType: 'image/png', buffer: await page.screenshot() })
  expect(await sheet.getByLabel('The code from the letter').count()).toBe(0)
  // The store of files is away: it says so in words, and nothing need be typed or chosen again.
  await context.route('**', (route) =>
    route.request().method() === 'PUT' ? route.abort('connectionrefused') : route.fallback(),
  )
  await sheet.getByRole('button', { name: 'Send the answer' }).click()
  await sheet.getByText('The store of files does not answer.', { exact: false }).waitFor()
  await context.unroute('**')
  await sheet.getByRole('button', { name: 'Send the answer' }).click()
  await page.getByText('You said that it is done', { exact: false }).waitFor()
  await page.getByText('with a photo', { exact: false }).waitFor()

  // The yard's invoice goes the same way, and is handed back as the file it was.
  await task.getByRole('button', { name: 'Add a photo or an invoice' }).click()
  const invoice = Buffer.from('%PDF-1.7\nAn invoice of an invented yard.\n%%EOF\n')
  await sheet
    .locator('input[type=file]')
    .setInputFiles({ name: 'new drain.pdf', mimeType: 'application/pdf', buffer: invoice })
  await sheet.getByRole('button', { name: 'Send the answer' }).click()
  await page.getByText('with an invoice', { exact: false }).waitFor()
  const kept = await context.request.get(await fileOfAnswer(context, tamsel.link))
  expect(await kept.body()).toEqual(invoice)
  expect(kept.headers()['content-disposition']).toContain('new%20drain.pdf')

  await page.getByRole('button', { name: 'Write a message' }).click()
  await page.getByLabel('Your message').fill('May she go in on Friday?')
  await page.getByRole('button', { name: 'Send the message' }).click()
  await page.getByText('May she go in on Friday?').waitFor()
  await page.getByText('It was sent.', { exact: false }).waitFor()
  await expect.poll(() => page.evaluate(() => document.activeElement?.textContent)).toBe('Write another message')

  await page.getByRole('button', { name: 'Keep these reports in one place' }).click()
  await sheet.getByLabel('A password').fill('two boats and a dinghy')
  await sheet.getByRole('button', { name: 'Keep them' }).click()
  await page.getByRole('heading', { name: 'My boats' }).waitFor()
  await page.getByRole('heading', { name: 'Tamsel' }).waitFor()
  await page.getByRole('heading', { name: 'Lantern Jack' }).waitFor()
  await sound(page)
  const lantern = page.locator('section').filter({ hasText: 'Lantern' }).last()
  await lantern.getByRole('link').first().click()
  await page.getByRole('heading', { name: 'Lantern Jack', level: 1 }).waitFor()
  await page.getByRole('article').first().getByRole('radio', { name: 'Agree' }).click()
  await sheet.getByRole('button', { name: 'Send the answer' }).click()
  await page.getByText('You agreed', { exact: false }).waitFor()
  await sound(page)

  await page.goto('/my')
  await page.getByRole('button', { name: 'Sign out' }).click()
  await page.getByLabel('Password').waitFor()
  expect(faults).toEqual([])
  await context.close()
})

it('a client lets another read a report and takes the leave back, by keyboard', { timeout: 120_000 }, async () => {
  const { context, page, faults } = await open(browser, { size: 'phone' })
  const { email, password } = demo().client
  await page.goto('/my')
  await page.getByLabel('E-mail').fill(email)
  await page.getByLabel('Password').fill(password)
  await page.getByRole('button', { name: 'Open my reports' }).press('Enter')
  await page.locator('main li', { hasText: 'amended' }).getByRole('link').first().press('Enter')
  await page.getByRole('button', { name: 'Let somebody else read it' }).press('Enter')
  const sheet = page.getByRole('dialog')
  await sheet.getByRole('button', { name: 'Give leave' }).press('Enter')
  await sheet.getByText('Name the person it may be shared with.').waitFor()
  const name = `B. Ostler ${Date.now()}`
  await sheet.getByLabel('Name').fill(name)
  await sheet.getByLabel('E-mail').fill('b.ostler@post.example')
  await sheet.getByLabel('What for').fill('thinks of buying her')
  await sheet.getByRole('button', { name: 'Give leave' }).press('Enter')
  const permit = page.locator('main li', { hasText: name })
  await permit.getByText('leave given', { exact: false }).waitFor()
  await permit.getByRole('button', { name: `Take back the leave for ${name}` }).press('Enter')
  await sheet.getByRole('button', { name: 'Take it back' }).press('Enter')
  await permit.getByText('leave taken back', { exact: false }).waitFor()
  // Its button is gone with the leave; focus stays where it was among the page's parts.
  await expect
    .poll(() => page.evaluate(() => document.activeElement?.closest('section')?.textContent ?? ''))
    .toContain(name)
  expect(faults).toEqual([])
  await context.close()
})
