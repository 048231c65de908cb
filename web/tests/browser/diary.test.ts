import type { Browser, BrowserContext, Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/model/id'
import { demo, launch, open, settle, signIn } from './open'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

/** What a program does with its key, in a document of its own. */
async function program(context: BrowserContext, operation: string, type: string, input: object) {
  const answer = await context.request.post('/graphql', {
    headers: { Authorization: `Bearer ${demo().apiKey}`, 'Content-Type': 'application/json' },
    data: {
      query: `mutation($input: ${type}!) { ${operation}(input: $input) { __typename } }`,
      variables: { input: { mutation: newId('mut'), ...input } },
    },
  })
  const said = (await answer.json()) as { errors?: { message: string; extensions: { field?: string } }[] }
  return said.errors?.[0]
}

/** Presses what has a name, by keyboard alone. */
async function press(at: Locator, key = 'Enter') {
  await at.focus()
  await at.page().keyboard.press(key)
}

async function type(at: Locator, text: string) {
  await at.focus()
  await at.page().keyboard.press('Control+a')
  await at.page().keyboard.type(text)
}

/** Days from a day of this file's own, where neither the demonstration nor another test plans anything. */
const days = (n: number, hours = 0) => new Date(Date.now() + (210 + n) * 86_400_000 + hours * 3_600_000).toISOString()

/** A boat with a hull, a job, a lift that is asked for and a visit, entered by a program. */
async function boat(context: BrowserContext) {
  const ids = {
    vessel: newId('vsl'),
    element: newId('elm'),
    job: newId('job'),
    spell: newId('spl'),
    visit: newId('vis'),
  }
  const name = `Teal ${Date.now().toString(36).slice(-5)}`
  const told = [
    await program(context, 'addVessel', 'AddVesselInput', { id: ids.vessel, name }),
    await program(context, 'addElement', 'AddElementInput', { id: ids.element, vessel: ids.vessel, kind: 'hull' }),
    await program(context, 'addJob', 'AddJobInput', { id: ids.job, vessel: ids.vessel, kind: 'limited moisture' }),
    await program(context, 'addSpell', 'AddSpellInput', {
      id: ids.spell,
      vessel: ids.vessel,
      timeZone: 'Europe/Dublin',
      plannedLift: days(40),
      plannedLaunch: days(90),
      askedOnly: true,
    }),
    await program(context, 'planVisit', 'PlanVisitInput', {
      id: ids.visit,
      job: ids.job,
      kind: 'other',
      from: days(1),
      to: days(1, 1),
      timeZone: 'Europe/Dublin',
    }),
  ]
  expect(told.filter(Boolean)).toEqual([])
  return { ...ids, name }
}

const window = (page: Page) => page.getByRole('dialog')

it('keeps a window that was bared without leave, with its reason, and asks for the one that came late', async () => {
  const { context, page, faults } = await open(browser, { size: 'phone' })
  await signIn(page, 'principal')
  const her = await boat(context)

  // On the spot: refused in words, kept once it is said that it was done already, and why.
  await page.goto(`/visits/${her.visit}`)
  await settle(page)
  await press(page.getByRole('button', { name: 'Note a window' }))
  await type(window(page).getByLabel('Forward of the aft perpendicular'), '2400')
  await type(window(page).getByLabel('Down the skin below the waterline mark'), '300')
  await press(window(page).getByRole('button', { name: 'Write down' }))
  await window(page).getByText('Nobody has been asked yet for leave: scraping coatings.', { exact: false }).waitFor()
  await type(window(page).getByLabel('Done already: why without leave'), 'the owner said yes on the quay')
  await press(window(page).getByRole('button', { name: 'Write down' }))
  await window(page).waitFor({ state: 'detached' })

  // Marks, by the same rule, and off again.
  await press(page.getByRole('button', { name: 'Note marks' }))
  await type(page.getByLabel('Where', { exact: true }), 'round the patch')
  await press(page.getByRole('button', { name: 'Write down', exact: true }).last())
  await page.getByText('Nobody has been asked yet for leave: marking the hull.', { exact: false }).waitFor()
  await type(page.getByLabel('Done already: why without leave'), 'chalk, wiped off at once')
  await press(page.getByRole('button', { name: 'Write down', exact: true }).last())
  await press(page.getByRole('button', { name: /^Taken off/ }))
  await page.getByText('off again', { exact: false }).waitFor()

  // Noted out of reach, and sent later by a device: nothing is lost, and the page asks why.
  const late = {
    id: newId('win'),
    visit: her.visit,
    element: her.element,
    side: 'port',
    alongMm: 3000,
    downMm: 300,
    widthMm: 100,
    heightMm: 100,
  }
  expect((await program(context, 'recordWindow', 'RecordWindowInput', late))?.extensions.field).toBe('withoutLeave')
  expect(
    await program(context, 'recordWindow', 'RecordWindowInput', {
      ...late,
      unasked: { notedAt: new Date().toISOString() },
    }),
  ).toBeUndefined()
  await page.goto(`/jobs/${her.job}`)
  await settle(page)
  await page.getByRole('link', { name: /^A window was bared on .* Nobody has said why\.$/ }).waitFor()
  await page.getByText('“the owner said yes on the quay”', { exact: false }).waitFor()
  await type(page.getByLabel('Why without leave: scrape'), 'no signal under the shed roof')
  await press(page.getByRole('button', { name: 'Say why' }))
  await page.getByText('“no signal under the shed roof”', { exact: false }).waitFor()
  expect(await page.getByText('Nobody has said why.').count()).toBe(0)

  // The number of windows, and one more than that.
  await press(page.getByRole('button', { name: 'Note a permission' }))
  await window(page).getByText('Scrape', { exact: true }).click()
  await type(window(page).getByLabel('How many windows in all'), '2')
  await press(window(page).getByText('Given', { exact: true }), 'Space').catch(() => {})
  await window(page).getByText('Given', { exact: true }).click()
  await type(window(page).getByLabel('Or somebody else, by name'), 'Ada Ferrant')
  await press(window(page).getByRole('button', { name: 'Write down' }))
  await page.getByText('2 windows in all', { exact: false }).waitFor()
  const third = await program(context, 'recordWindow', 'RecordWindowInput', { ...late, id: newId('win') })
  expect(third?.message).toContain('for 2 windows in all, and 2 are bared')
  expect(faults).toEqual([])
  await context.close()
})

it('takes a proposed visit line by line, and stops a lift that nobody allowed', async () => {
  const { context, page, faults } = await open(browser)
  await signIn(page, 'principal')
  const her = await boat(context)
  await page.goto(`/jobs/${her.job}`)
  await settle(page)
  await press(page.getByRole('button', { name: /^Decline ?: wet look/ }))
  await type(page.getByLabel('Why not: wet look'), 'she is lifted at night')
  await press(page.getByRole('button', { name: 'Decline it' }))
  await page.getByText(/Declined .*: she is lifted at night/).waitFor()
  await press(page.getByRole('button', { name: /^Propose it again/ }))
  await page.getByRole('button', { name: /^Put in the diary ?: wet look/ }).waitFor()

  // The yard says yes; the owner was never asked.
  const booked = await program(context, 'editSpell', 'EditSpellInput', { id: her.spell, version: 1, askedOnly: false })
  expect(booked?.message).toContain('Nobody has been asked yet for leave: lifting her.')
  // A visit against which something stands: not without a reason, whoever asks.
  const visit = {
    id: newId('vis'),
    job: her.job,
    spell: her.spell,
    kind: 'wet look',
    from: days(40, 1),
    to: days(40, 2),
    timeZone: 'Europe/Dublin',
  }
  const bare = await program(context, 'planVisit', 'PlanVisitInput', visit)
  expect([bare?.extensions.field, bare?.message]).toEqual(['overrides', expect.stringContaining('yard-asked')])
  expect(
    await program(context, 'planVisit', 'PlanVisitInput', {
      ...visit,
      overrides: [{ code: 'yard-asked', reason: 'they said yes by telephone' }],
    }),
  ).toBeUndefined()
  expect(faults).toEqual([])
  await context.close()
})

it('puts the practice’s own figure in the place of the trade’s, and takes the trade’s again', async () => {
  const { context, page, faults } = await open(browser)
  await signIn(page, 'principal')
  await page.goto('/settings/figures')
  await settle(page)
  const row = page.getByRole('row', { name: /^Two yards of one day/ })
  await press(row.getByRole('button', { name: /^Change/ }))
  await type(window(page).getByLabel('How much'), '25')
  await press(window(page).getByRole('button', { name: 'Keep it' }))
  await window(page).getByText('Say why: it stays with the figure, with your name.').waitFor()
  await type(window(page).getByLabel('Why'), 'a ferry lies between')
  await press(window(page).getByRole('button', { name: 'Keep it' }))
  await window(page).waitFor({ state: 'detached' })
  await expect.poll(() => row.textContent()).toContain('25 km')
  await expect.poll(() => row.textContent()).toContain('a ferry lies between')
  await press(row.getByRole('button', { name: /^Change/ }))
  await type(window(page).getByLabel('Why'), 'the ferry is gone')
  await press(window(page).getByRole('button', { name: 'Take the trade’s again' }))
  await window(page).waitFor({ state: 'detached' })
  await expect.poll(() => row.textContent()).toContain('40 km')
  await press(row.getByText('before that'))
  await row.getByText('25 km. a ferry lies between', { exact: false }).first().waitFor()
  expect(faults).toEqual([])
  await context.close()
})

it('writes down who judged what a member is competent for, and when', async () => {
  const { context, page, faults } = await open(browser)
  await signIn(page, 'principal')
  await page.goto('/people')
  await settle(page)
  const first = page.getByRole('button', { name: /^Judge ?: / }).first()
  const who = ((await first.textContent()) ?? '').replace(/^Judge ?: /, '')
  const row = page.getByRole('row').filter({ has: page.getByRole('button', { name: new RegExp(`^Judge ?: ${who}`) }) })
  const damage = window(page).getByRole('checkbox', { name: 'damage' })
  await press(first)
  const does = await damage.isChecked()
  await press(damage, 'Space')
  await type(window(page).getByLabel('On what grounds'), 'went along to ten')
  await press(window(page).getByRole('button', { name: 'Keep the judgement' }))
  await window(page).waitFor({ state: 'detached' })
  await expect.poll(() => row.textContent()).toContain('went along to ten')
  await press(row.getByRole('button', { name: /^Judge/ }))
  await press(damage, 'Space')
  await press(window(page).getByRole('button', { name: 'Keep the judgement' }))
  await window(page).waitFor({ state: 'detached' })
  await press(row.locator('summary'))
  await row
    .getByText(does ? 'damage, not any more' : 'damage, competent', { exact: false })
    .first()
    .waitFor()
  expect(faults).toEqual([])
  await context.close()
})
