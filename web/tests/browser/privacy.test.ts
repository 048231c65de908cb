import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/model/id'
import { launch, open, settle, signIn } from './open'
import { program } from './program'
import { violations } from './violations'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

/** Somebody new to whom an issued report is shared: the id, and the link. */
async function newcomer(context: BrowserContext, email: string): Promise<{ party: string; link: string }> {
  const party = newId('pty')
  await program(context, 'mutation($input: AddPartyInput!) { addParty(input: $input) { party { id } } }', {
    mutation: newId('mut'),
    id: party,
    kind: 'person',
    name: 'A. Ferrant',
    email,
    phone: '555 0177',
  })
  const { reports } = await program<{
    reports: { edges: { node: { id: string; state: string; vessel: { name: string } } }[] }
  }>(context, '{ reports(first: 50) { edges { node { id state vessel { name } } } } }')
  const report = reports.edges.find(({ node }) => node.vessel.name === 'Tamsel' && /issued|amended/.test(node.state))
  const { shareReport } = await program<{ shareReport: { link: string } }>(
    context,
    'mutation($input: ShareReportInput!) { shareReport(input: $input) { link } }',
    {
      mutation: newId('mut'),
      id: newId('shr'),
      report: report?.node.id,
      name: 'A. Ferrant',
      email,
      until: new Date(Date.now() + 20 * 86_400_000).toISOString(),
    },
  )
  return { party, link: new URL(shareReport.link).pathname }
}

async function sound(page: Page) {
  await settle(page)
  expect(await violations(page, true)).toEqual([])
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
  expect(wide).toBe(0)
}

it('a person is exported, held, and erased when the hold is lifted; the old link says so', async () => {
  const email = `leaver-${Date.now()}@leaver.example`
  const { context, page, faults } = await open(browser)
  const { party, link } = await newcomer(context, email)
  const outside = await open(browser, { size: 'phone' })
  await outside.page.goto(link)
  await outside.page.getByRole('heading', { name: 'Tamsel' }).waitFor()

  await signIn(page, 'principal')
  await page.goto(`/people/${party}`)
  await page.getByRole('heading', { name: 'A. Ferrant' }).waitFor()
  await page.getByRole('rowheader', { name: 'Links to reports' }).waitFor()
  await sound(page)
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('link', { name: 'Export' }).click(),
  ])
  expect(download.suggestedFilename()).toBe('person.zip')

  await page.getByRole('button', { name: 'Hold this file' }).click()
  await page.getByLabel('Why').fill('A claim was announced by telephone.')
  await page.getByRole('button', { name: 'Hold it' }).click()
  await page.getByText('nothing of this file is erased while a hold stands').waitFor()
  await page.getByRole('button', { name: 'Erase…' }).click()
  await page.getByText('While it stands nothing of it is erased').waitFor()
  expect(await page.getByRole('button', { name: 'Erase', exact: true }).count()).toBe(0)
  await sound(page)
  await page.keyboard.press('Escape')

  await page.getByRole('button', { name: 'Lift the hold' }).click()
  await page.getByLabel('Why it is lifted').fill('Settled.')
  await page.getByRole('button', { name: 'Lift it' }).click()
  await page.getByText('Not held.').waitFor()

  // By keyboard alone from here: the sheet, the reason, the name, the button.
  await page.getByRole('button', { name: 'Erase…' }).focus()
  await page.keyboard.press('Enter')
  await page.getByLabel('Why').waitFor()
  await sound(page)
  await page.getByLabel('Why').focus()
  await page.keyboard.type('Asked for it by letter.')
  await page.keyboard.press('Tab')
  await page.keyboard.type('A. Ferant')
  await page.keyboard.press('Tab')
  await page.keyboard.press('Enter')
  await page.getByText('Type the name as it stands above').waitFor()
  await page.getByLabel('Their name').fill('A. Ferrant')
  await page.keyboard.press('Tab')
  await page.keyboard.press('Enter')
  await page.getByText('The details were erased on').waitFor()
  await sound(page)
  await expect.poll(() => page.getByText(email).count()).toBe(0)

  await outside.page.reload()
  await outside.page.getByText('erased the details of the person whom this link was for').waitFor()
  await sound(outside.page)

  await page.goto('/settings/retention')
  await page
    .getByRole('cell', { name: /Asked for it by letter/ })
    .first()
    .waitFor()
  expect([...faults, ...outside.faults]).toEqual([])
  await context.close()
  await outside.context.close()
})

it('how long files stay is the practice’s own statement, and what is over is listed', async () => {
  const { context, page, faults } = await open(browser, { size: 'phone' })
  await signIn(page, 'principal')
  await page.goto('/settings/retention')
  await page.getByLabel('Files of jobs', { exact: true }).fill('6')
  await page
    .getByLabel('Files of jobs: by which rule, and where it holds')
    .fill('As our counsel says, for this harbour.')
  await page.getByRole('button', { name: 'Keep the statement' }).click()
  await page.getByText(/Stated on .* by/).waitFor()
  await page.getByRole('heading', { name: 'Files whose time is over' }).waitFor()
  await expect.poll(() => page.getByRole('button', { name: /^Erase… the file of job/ }).count()).toBeGreaterThan(0)
  await sound(page)
  await page.getByLabel('Files of jobs', { exact: true }).fill('15')
  await page.getByRole('button', { name: 'Keep the statement' }).click()
  await page.waitForFunction(() => !document.querySelector('#due table'))
  expect(faults).toEqual([])
  await context.close()
})

it('a file whose time is over goes once nobody holds it, and the boat keeps her record', async () => {
  const { context, page, faults } = await open(browser)
  await signIn(page, 'principal')
  await page.goto('/settings/retention')
  await page.getByLabel('Files of jobs', { exact: true }).fill('7')
  await page.getByRole('button', { name: 'Keep the statement' }).click()
  const row = page.getByRole('row').filter({ hasText: 'Old Vesper' })
  await row.getByRole('link', { name: '2018-001' }).click()
  await page.getByRole('button', { name: 'Hold this file' }).click()
  await page.getByLabel('Why').fill('A claim was announced.')
  await page.getByRole('button', { name: 'Hold it' }).click()
  await page.getByRole('button', { name: 'Lift the hold' }).waitFor()
  const { reports } = await program<{ reports: { edges: { node: { id: string; number: string } }[] } }>(
    context,
    '{ reports(first: 100) { edges { node { id number } } } }',
  )
  const report = reports.edges.find(({ node }) => node.number === '2018-001')?.node.id
  const pdf = () => context.request.get(`/reports/${report}/report.pdf`)
  expect((await pdf()).status()).toBe(200)

  await page.goto('/settings/retention')
  await row.getByText('held').waitFor()
  expect(await row.getByRole('button').count()).toBe(0)
  await sound(page)
  await row.getByRole('link', { name: '2018-001' }).click()
  await page.getByRole('button', { name: 'Lift the hold' }).click()
  await page.getByLabel('Why it is lifted').fill('Settled.')
  await page.getByRole('button', { name: 'Lift it' }).click()
  await page.getByText('Not held.').waitFor()

  await page.goto('/settings/retention')
  await row.getByRole('button', { name: 'Erase… the file of job 2018-001' }).click()
  await page.getByText('This stays: readings, findings and photos of the boat').waitFor()
  await sound(page)
  await page.getByLabel('Why').fill('Its time is over.')
  await page.getByLabel('The number of the job').fill('2018-002')
  await page.getByRole('button', { name: 'Erase', exact: true }).click()
  await page.getByLabel('The number of the job').and(page.locator('[aria-invalid=true]')).waitFor()
  await page.getByLabel('The number of the job').fill('2018-001')
  await page.getByRole('button', { name: 'Erase', exact: true }).click()
  const gone = page.getByRole('row').filter({ hasText: 'the file of a job' })
  await gone.getByText('Its time is over.').waitFor()
  expect(await row.count()).toBe(0)
  expect(await gone.textContent()).not.toContain('Brask')
  await sound(page)
  const after = await pdf()
  expect(after.status()).toBe(404)
  expect(await after.text()).toContain('erased')
  await page.goto(`/reports/${report}`)
  await page
    .getByText(/erased/)
    .first()
    .waitFor()

  await page.goto('/vessels?find=Old+Vesper')
  await page.getByRole('link', { name: 'Old Vesper' }).first().click()
  await page.getByRole('heading', { name: 'Old Vesper' }).waitFor()
  await page.goto('/settings/retention')
  await page.getByLabel('Files of jobs', { exact: true }).fill('15')
  await page.getByRole('button', { name: 'Keep the statement' }).click()
  await page.waitForFunction(() => !document.querySelector('#due table'))
  expect(faults).toEqual([])
  await context.close()
})
