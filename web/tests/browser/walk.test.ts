import { mkdtempSync, readFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/model/id'
import { ask, demo, launch, mailTo, open, settle, signIn } from './open'

/** A busy machine is slow, and that is no fault. */
const slow = { timeout: 20_000 }

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

const cell = (page: Page, name: string) => page.getByRole('textbox', { name, exact: true })

/** The pass that is open for today's readings, and how much of it is still to be read. */
async function openPass(context: BrowserContext) {
  const { vessels } = await ask<{ vessels: { edges: { node: { id: string } }[] } }>(context, 'VesselsPage', {
    search: 'Tamsel',
  })
  const vessel = vessels.edges[0]?.node.id ?? ''
  const { vessel: book } = await ask<{ vessel: { jobs: { id: string }[] } }>(context, 'VesselBrief', { id: vessel })
  for (const { id } of book.jobs) {
    const { job } = await ask<{ job: { visits: { id: string; passes: { id: string; state: string }[] }[] } }>(
      context,
      'JobPage',
      { id },
    )
    for (const visit of job.visits) {
      const pass = visit.passes.find(({ state }) => state === 'open')
      if (pass) return { vessel, job: id, visit: visit.id, pass: pass.id }
    }
  }
  throw new Error('the demo has no open pass')
}

describe('the main job, through the page', () => {
  it('asks who you are, and then goes where you were going', async () => {
    const { context, page } = await open(browser)
    await page.goto('/instruments')
    await page.waitForURL('**/sign-in?to=%2Finstruments')
    const who = demo().signIns[0]
    await page.getByLabel('E-mail').fill(who?.email ?? '')
    await page.getByLabel('Password').fill('not the password')
    await page.getByRole('button', { name: 'Sign in' }).click()
    await expect.poll(() => page.getByRole('alert').count(), slow).toBe(1)
    await page.getByLabel('Password').fill(who?.password ?? '')
    await page.getByRole('button', { name: 'Sign in' }).click()
    await page.waitForURL('**/instruments')
    await context.close()
  })

  it('leads from a file through the sign-in back to the file', async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'surveyor')
    const { reports } = await ask<{ reports: { edges: { node: { id: string; state: string } }[] } }>(
      context,
      'ReportsPage',
    )
    const issued = reports.edges.find(({ node }) => node.state === 'issued')?.node.id
    const file = `/reports/${issued}/report.pdf`
    const saved = async (act: () => Promise<unknown>) => {
      const coming = page.waitForEvent('download')
      await act()
      return (await coming).suggestedFilename()
    }

    // The access has run out while the page lay open: the session is renewed, and the file comes.
    await page.goto(`/reports/${issued}`)
    await settle(page)
    const cookies = await context.cookies()
    for (const { name } of cookies) if (/^boottop-\d+$/.test(name)) await context.clearCookies({ name })
    const link = page.getByRole('link', { name: 'Download PDF' })
    expect(await saved(() => link.click())).toMatch(/^report-.*\.pdf$/)

    // The session is over: who asks signs in first.
    await context.clearCookies()
    await page.goto(file)
    await page.getByText('The file you asked for opens once you have signed in.').waitFor()
    const who = demo().signIns[0]
    await page.getByLabel('E-mail').fill(who?.email ?? '')
    await page.getByLabel('Password').fill(who?.password ?? '')
    expect(await saved(() => page.getByRole('button', { name: 'Sign in' }).click())).toMatch(/^report-.*\.pdf$/)
    await page.getByText('the file is on its way').waitFor()
    await page.getByRole('link', { name: 'To today' }).click()
    await page.waitForURL('**/today')
    expect(faults).toEqual([])

    // A program is told so, and nobody is led out of the service.
    await context.clearCookies()
    expect((await context.request.get(file, { headers: { Accept: '*/*' } })).status()).toBe(401)
    await page.goto('/sign-in?file=%2F%5Cevil.example%2Fx')
    await page.getByLabel('E-mail').fill(who?.email ?? '')
    await page.getByLabel('Password').fill(who?.password ?? '')
    await page.getByRole('button', { name: 'Sign in' }).click()
    await page.waitForURL('**/today')
    await context.close()
  })

  it('signs in, sees ten years beside today, and finds a place by keyboard', async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'surveyor')
    await page.getByRole('navigation', { name: 'Boottop' }).getByRole('link', { name: 'Vessels' }).click()
    await page.getByRole('searchbox', { name: 'Find a vessel' }).fill('Tamsel')
    await page.getByRole('link', { name: 'Tamsel', exact: true }).click()
    // The list stays until her page has come: it is loaded when it is first asked for.
    await expect.poll(() => page.locator('h1').textContent(), slow).toBe('Tamsel')
    await settle(page)
    const visits = page.getByRole('region', { name: 'Visits' }).getByRole('listitem')
    expect(await visits.count()).toBeGreaterThan(4)
    const hull = page.getByRole('listbox')
    const before = await page.locator('#place h2').textContent()
    await hull.getByRole('option', { selected: true }).focus()
    await page.keyboard.press('ArrowLeft')
    await page.keyboard.press('Enter')
    await expect.poll(() => page.locator('#place h2').textContent(), slow).not.toBe(before)
    expect(page.url()).toContain('place=')
    // What is unlike is shown and not subtracted, and the page says why.
    const unlike = visits.filter({ hasText: /unlike|quoted/ }).first()
    await unlike.getByRole('button').click()
    await expect.poll(() => page.getByRole('radio', { name: 'Change' }).isDisabled(), slow).toBe(true)
    await page.getByRole('button', { name: 'as a table' }).click()
    await expect.poll(() => page.locator('#table tbody tr').count(), slow).toBeGreaterThan(50)
    expect(faults).toEqual([])
    await context.close()
  })

  it('shows the same after a change of light, and after coming back', async () => {
    const { context, page } = await open(browser)
    await signIn(page, 'surveyor')
    await page.getByRole('button', { name: /^Light: Paper/ }).click()
    expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBe('shed')
    await context.close()
  })

  it('types a pass by keyboard alone, pastes a block, takes it back, and keeps what was sent', async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'surveyor')
    const found = await openPass(context)
    await page.goto(`/passes/${found.pass}`)
    await settle(page)
    const empty = page.locator('input[data-place]:not([readonly])')
    const first = await empty.evaluateAll((inputs) =>
      inputs.findIndex(
        (input) => !(input as HTMLInputElement).value && !input.closest('td')?.className.includes('unread'),
      ),
    )
    expect(first).toBeGreaterThan(-1)
    const start = empty.nth(first)
    const name = (await start.getAttribute('aria-label')) ?? ''
    await start.focus()
    await page.keyboard.type('21,4 21,9 21,2')
    await page.keyboard.press('Enter')
    expect(await cell(page, name).inputValue()).toBe('21.4')
    const next = await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))
    expect(next).not.toBe(name)
    // Beyond the scale: refused, with its ends named, and kept as typed.
    await page.keyboard.type('1400')
    await page.keyboard.press('Escape')
    // A block: good cells kept, the bad one marked, one undo.
    const typed = await page
      .locator('input[data-place]')
      .evaluateAll((inputs) => inputs.map((i) => (i as HTMLInputElement).value).join())
    await page.evaluate(() => {
      const data = new DataTransfer()
      data.setData('text/plain', '22,1\n23,0\n9999\n')
      document.activeElement?.dispatchEvent(
        new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }),
      )
    })
    await expect.poll(() => page.getByText(/Pasted: \d+ kept/).count(), slow).toBe(1)
    expect(await page.getByRole('heading', { name: 'Not understood' }).count()).toBe(1)
    await page.keyboard.press('Control+z')
    await expect
      .poll(() =>
        page
          .locator('input[data-place]')
          .evaluateAll((inputs) => inputs.map((i) => (i as HTMLInputElement).value).join()),
      )
      .toBe(typed)
    await page.getByRole('button', { name: /^Send 1 place/ }).click()
    await expect.poll(() => page.getByText(/1 place received/).count(), slow).toBe(1)
    await page.reload()
    await settle(page)
    expect(await cell(page, name).inputValue()).toBe('21.4')
    expect(await page.getByText('0 on this page').count()).toBe(1)
    expect(faults).toEqual([])
    await context.close()
  })

  it('takes a hull that is new to the practice from her name to the first reading', { timeout: 240_000 }, async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'principal')
    await page.goto('/vessels')
    await settle(page)
    await page.getByRole('button', { name: 'Add a vessel' }).first().click()
    await page.getByLabel('Name she carries now').fill(`Teal ${Date.now() % 100_000}`)
    await page.getByLabel('Length over all').fill('9,2')
    await page.getByRole('button', { name: 'Add her' }).click()
    await page.waitForURL('**/brief')
    const vessel = /vsl_[\w-]+/.exec(page.url())?.[0] ?? ''
    await settle(page)
    await page.getByRole('button', { name: 'Lay out a grid' }).click()
    await page.getByLabel('Beam').fill('3,0')
    await page.getByLabel('Draught').fill('1,6')
    await page.getByRole('button', { name: /^Keep \d+ places/ }).click()
    await expect.poll(() => page.getByText('version 1').count(), slow).toBe(1)
    // A survey begins with an enquiry: her page leads to it, with her name filled in.
    await page.getByRole('link', { name: 'Write down an enquiry for her' }).click()
    await page.getByLabel('Who asks').fill('Odo Rask')
    await page.getByRole('button', { name: 'Keep the enquiry' }).click()
    await page.waitForURL('**/engagements/eng_*')
    expect(await page.getByText('The boat is not known yet.').count()).toBe(0)
    // From there on terms and a code are needed, as booking.test.ts walks; here the job is entered by a program.
    const job = newId('job')
    const added = await context.request.post('/graphql', {
      headers: { Authorization: `Bearer ${demo().apiKey}`, 'Content-Type': 'application/json' },
      data: {
        query: 'mutation($input: AddJobInput!) { addJob(input: $input) { job { id } } }',
        variables: { input: { mutation: newId('mut'), id: job, vessel, kind: 'limited moisture' } },
      },
    })
    expect((await added.json()).errors).toBeUndefined()
    await page.goto(`/jobs/${job}`)
    await settle(page)
    await page.getByRole('button', { name: 'Plan another visit' }).click()
    await page.getByRole('dialog').getByRole('button', { name: 'Place it' }).click()
    await page.waitForURL('**/visits/vis_*')
    await settle(page)
    await page.getByRole('button', { name: 'Write them down' }).click()
    await page.getByLabel('Air').fill('11,5')
    await page.getByLabel('Relative humidity').fill('74')
    await page.getByRole('button', { name: 'Write down', exact: true }).click()
    await expect.poll(() => page.getByText('11.5 °C, 74 % RH').count(), slow).toBe(1)
    await page.getByRole('button', { name: 'Open a pass' }).click()
    await page.getByRole('dialog').getByRole('button', { name: 'Open it' }).click()
    await page.waitForURL('**/passes/pas_*')
    await settle(page)
    const first = page.locator('input[data-place]').first()
    await first.focus()
    await page.keyboard.type('12,4')
    await page.keyboard.press('Control+s')
    await expect.poll(() => page.getByText(/1 place received/).count(), slow).toBe(1)
    expect(faults).toEqual([])
    await context.close()
  })

  it('looks at a file before it keeps it, names what is wrong in it by row and column, and keeps all or nothing', async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'surveyor')
    const found = await openPass(context)
    await page.goto(`/passes/${found.pass}`)
    await settle(page)
    await page.getByRole('button', { name: 'Import a file' }).click()
    const sheet = page.getByRole('dialog')
    const choose = (name: string, text: string) =>
      sheet.locator('input[type=file]').setInputFiles({ name, mimeType: 'text/csv', buffer: Buffer.from(text) })
    await choose('wrong.csv', 'place,reading\nP99/9,21.4\nP12/1,9999\n')
    await expect.poll(() => sheet.getByText('What is wrong, by the file’s own rows and columns').count(), slow).toBe(1)
    expect(await sheet.getByRole('button', { name: /^Import/ }).isDisabled()).toBe(true)
    const empty = await page.locator('input[data-place]').evaluateAll((inputs) =>
      inputs.flatMap((input) => {
        const it = input as HTMLInputElement
        const label = it.getAttribute('aria-label') ?? ''
        return it.value || it.closest('td')?.className.includes('unread') || /dry/.test(label) ? [] : [label]
      }),
    )
    const [side = '', label = ''] = (empty.at(-1) ?? '').split(' ')
    await choose('right.csv', `side,place,reading\n${side},${label},21.4\n`)
    await expect.poll(() => sheet.getByRole('button', { name: 'Import 1 reading' }).count(), slow).toBe(1)
    await sheet.getByRole('button', { name: 'Import 1 reading' }).click()
    await expect.poll(() => cell(page, `${side} ${label}`).inputValue(), slow).toBe('21.4')
    expect(faults).toEqual([])
    await context.close()
  })

  it('loses nothing that was typed when the page is closed', async () => {
    const { context, page } = await open(browser)
    await signIn(page, 'surveyor')
    const found = await openPass(context)
    await page.goto(`/passes/${found.pass}`)
    await settle(page)
    const inputs = page.locator('input[data-place]:not([readonly])')
    const last = (await inputs.count()) - 1
    await inputs.nth(last).fill('19,9')
    await page.close()
    const again = await context.newPage()
    await again.goto(`/passes/${found.pass}`)
    await settle(again)
    expect(await again.locator('input[data-place]').nth(last).inputValue()).toMatch(/19[.,]9/)
    expect(await again.getByText('1 on this page').count()).toBe(1)
    await again.locator('input[data-place]').nth(last).focus()
    await again.keyboard.press('Escape')
    await context.close()
  })
})

describe('the report and its reader', () => {
  it('drafts by one hand, looks over by another, issues once, and has its PDF', { timeout: 300_000 }, async () => {
    const writer = await open(browser)
    await signIn(writer.page, 'surveyor')
    const { jobs } = await ask<{ jobs: { edges: { node: { id: string; vessel: { name: string } } }[] } }>(
      writer.context,
      'JobsPage',
      { open: true, mine: false },
    )
    const job = jobs.edges.find(({ node }) => node.vessel.name === 'Wych Elm')?.node
    if (!job) throw new Error('the demo has no open job of Wych Elm')
    await writer.page.goto(`/jobs/${job.id}`)
    await settle(writer.page)
    await writer.page.getByRole('button', { name: 'Draft a report' }).click()
    await writer.page.waitForURL('**/reports/rep_*')
    await settle(writer.page)
    await writer.page.getByLabel('What was asked').fill('Moisture of the underbody; nothing else.')
    await expect.poll(() => writer.page.getByText('All of it is kept.').count(), slow).toBe(1)
    const address = writer.page.url()
    await writer.context.close()

    const { context, page, faults } = await open(browser)
    await signIn(page, 'principal')
    await page.goto(address)
    await settle(page)
    await page.getByRole('button', { name: 'Take the second look' }).click()
    await expect.poll(() => page.getByText('Nothing stands in the way.').count(), slow).toBe(1)
    await page.getByRole('button', { name: 'Issue the report' }).click()
    await page.getByRole('dialog').getByRole('button', { name: 'Issue it' }).click()
    await expect.poll(() => page.getByRole('link', { name: 'Download PDF' }).count(), { timeout: 60_000 }).toBe(1)
    expect(await page.getByText(/^Report \d{4}-\d{3}$/).count()).toBeGreaterThan(0)
    expect(await page.getByLabel('What was asked').count()).toBe(0)
    const pdf = await context.request.get(`${new URL(address).pathname}/report.pdf`)
    expect((await pdf.body()).subarray(0, 5).toString()).toBe('%PDF-')
    expect(faults).toEqual([])
    await context.close()
  })

  it('sends a link; the client reads and downloads without signing in', { timeout: 240_000 }, async () => {
    const { context, page, faults } = await open(browser)
    await signIn(page, 'principal')
    const { reports } = await ask<{ reports: { edges: { node: { id: string; state: string; number: string } }[] } }>(
      context,
      'ReportsPage',
    )
    const issued = reports.edges.find(({ node }) => node.state === 'issued')?.node
    if (!issued) throw new Error('the demo has no issued report')
    await page.goto(`/reports/${issued.id}`)
    await settle(page)
    await page.getByRole('button', { name: 'Send a link' }).click()
    const sheet = page.getByRole('dialog')
    const reader = await sheet.getByLabel('For', { exact: true }).inputValue()
    expect(reader, 'a link is for the client until somebody else is named').not.toBe('')
    const address = `reader-${Date.now()}@post.example`
    await sheet.getByLabel('E-mail').fill(address)
    await sheet.getByRole('button', { name: 'Send it' }).click()
    const link = await sheet.getByRole('link').getAttribute('href')
    expect(link).toContain('/s/')
    await context.close()

    const client = await open(browser, { size: 'phone' })
    await client.page.goto(new URL(link ?? '', demo().address).pathname)
    await settle(client.page)
    // The letter alone opens nothing: the page has a code sent to the address first.
    await client.page.getByRole('heading', { name: 'For its reader' }).waitFor()
    expect(await client.page.locator('body').textContent()).not.toContain(issued.number)
    await client.page.getByRole('button', { name: 'Send me the code' }).click()
    await client.page.getByText('A letter with a code is on its way', { exact: false }).waitFor()
    const code = client.page.getByLabel('The code from the letter')
    await code.fill('AAAA-AAAA')
    await code.press('Enter')
    await client.page.getByText('This is not the code', { exact: false }).waitFor()
    const letter = await mailTo(client.context, address, /code/)
    await code.fill(/code on its page: ([A-Z0-9-]+)/.exec(letter.body)?.[1] ?? '')
    await code.press('Enter')
    await client.page.getByText(`Report ${issued.number}`).first().waitFor()
    expect(await client.page.getByText(reader).count()).toBeGreaterThan(0)
    const download = client.page.waitForEvent('download')
    await client.page.getByRole('link', { name: 'Download PDF' }).click()
    const file = join(mkdtempSync(join(tmpdir(), 'boottop-')), 'report.pdf')
    await (await download).saveAs(file)
    expect(readFileSync(file).subarray(0, 5).toString()).toBe('%PDF-')
    await client.page.getByRole('button', { name: 'Read the whole report here' }).click()
    await expect.poll(() => client.page.getByRole('heading', { name: 'In short' }).count(), slow).toBe(1)
    expect([...faults, ...client.faults]).toEqual([])
    await client.context.close()
  })

  it('opens nothing for a link that was made up', async () => {
    const { context, page } = await open(browser, { size: 'phone' })
    await page.goto('/s/made-up')
    await settle(page)
    expect(await page.getByRole('heading', { name: 'Not open' }).count()).toBe(1)
    await context.close()
  })
})
