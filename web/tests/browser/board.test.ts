import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { dayIn, dayNumber, dayOf, instantOf, monday } from '../../src/model/dates'
import { newId } from '../../src/model/id'
import { day } from './keys'
import { launch, open, settle, signIn } from './open'
import { program } from './program'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

const zone = 'Europe/Dublin'
/** A Monday some weeks away, where the demonstration plans nothing; another one each time, as what was planned stays. */
const start = monday(dayOf(dayNumber(dayIn(Date.now(), zone)) + 84 + 7 * (Math.floor(Date.now() / 60_000) % 14)))
const on = (days: number, time = '09:00') => instantOf(dayOf(dayNumber(start) + days), time, zone)

/** A boat of nobody else's, with a job that is booked and a lift on the first Monday. */
async function booked(context: BrowserContext, name: string, lift = on(0)): Promise<void> {
  const [vessel, job, spell] = [newId('vsl'), newId('job'), newId('spl')]
  const send = (mutation: string, input: object) => {
    const [call = '', type = ''] = mutation.split(' ')
    return program(context, `mutation($input: ${type}!) { ${call}(input: $input) { __typename } }`, {
      mutation: newId('mut'),
      ...input,
    })
  }
  await send('addVessel AddVesselInput', { id: vessel, name })
  await send('addSpell AddSpellInput', {
    id: spell,
    vessel,
    timeZone: zone,
    plannedLift: lift,
    plannedLaunch: instantOf(dayOf(dayNumber(start) + 40), '12:00', zone),
  })
  await send('addJob AddJobInput', { id: job, vessel, kind: 'limited moisture' })
}

const week = (days: number) => `/board?week=${monday(dayOf(dayNumber(start) + days))}`
const shown = (days: number) =>
  new Intl.DateTimeFormat('en-GB', { weekday: 'short', day: 'numeric', month: 'short', timeZone: zone })
    .format(new Date(on(days)))
    .replace(',', '')

it('a job is placed by keyboard, moved, and stopped by name where it cannot be', { timeout: 240_000 }, async () => {
  const { context, page, faults } = await open(browser)
  const name = `Whimbrel ${Date.now() % 100_000}`
  await booked(context, name)
  await booked(context, `${name} two`)
  await signIn(page, 'principal')
  await page.goto('/board')
  await settle(page)

  // Placed with nothing but keys: the button, the surveyor, the form.
  await page
    .getByRole('button', { name: `Move to…, ${name}, job` })
    .first()
    .focus()
  await page.keyboard.press('Enter')
  const sheet = page.getByRole('dialog')
  await sheet.getByLabel('What for').selectOption('meter visit')
  await sheet.getByText('resin not known', { exact: false }).first().waitFor()
  await sheet
    .getByText('common practice', { exact: false })
    .or(sheet.getByText('Rests on:', { exact: false }))
    .first()
    .waitFor()
  await sheet.getByRole('radio', { name: 'R. Quillan' }).focus()
  await page.keyboard.press('Space')
  await sheet.getByRole('button', { name: 'Place it' }).focus()
  await page.keyboard.press('Enter')
  await sheet.waitFor({ state: 'detached' })
  await page.goto(week(3))
  await settle(page)
  const box = page.getByRole('article', { name: `${name}, meter visit` })
  await box.getByText('3 days ashore', { exact: false }).waitFor()

  // Moved to another day.
  await box.getByRole('button', { name: /^Move to…/ }).click()
  await day(page, 'Day', dayOf(dayNumber(start) + 4))
  await sheet.getByRole('button', { name: 'Move it' }).click()
  await sheet.waitFor({ state: 'detached' })
  await box.getByText('4 days ashore', { exact: false }).waitFor()

  // The same person at the same hours: named, and it cannot be saved.
  await page.getByRole('button', { name: `Move to…, ${name} two, job` }).click()
  await sheet.getByLabel('What for').selectOption('meter visit')
  await day(page, 'Day', dayOf(dayNumber(start) + 4))
  await sheet.getByRole('radio', { name: 'R. Quillan' }).check()
  await sheet.getByText(`Hard: R. Quillan is taken`, { exact: false }).waitFor()
  await sheet.getByText(`a meter visit of ${name}`, { exact: false }).first().waitFor()
  expect(await sheet.getByRole('button', { name: 'Place it' }).isDisabled()).toBe(true)

  // Somebody else, two days too early: soft, and saved with a reason.
  await sheet.getByRole('radio', { name: 'S. Maddern' }).check()
  await day(page, 'Day', dayOf(dayNumber(start) + 1))
  const why = sheet.getByLabel('Why all the same: waiting time')
  await why.waitFor()
  expect(await sheet.getByRole('button', { name: 'Place it' }).isDisabled()).toBe(true)
  await why.fill('she sails on Friday')
  await sheet.getByRole('button', { name: 'Place it' }).click()
  await sheet.waitFor({ state: 'detached' })
  await page.getByText(`Let pass, “she sails on Friday”: ${name} two`, { exact: false }).waitFor()
  expect(faults).toEqual([])
  await context.close()
})

it('a job is let go on somebody’s day by mouse, and the form is for them and that day', async () => {
  const { context, page, faults } = await open(browser)
  await page.setViewportSize({ width: 1440, height: 1800 })
  const name = `Knot ${Date.now() % 100_000}`
  await booked(context, name)
  await signIn(page, 'principal')
  await page.goto(week(7))
  await settle(page)
  const thursday = page.getByRole('region', { name: 'R. Quillan' }).locator('> div > *').nth(3)
  await page.getByRole('complementary').getByRole('listitem').filter({ hasText: name }).dragTo(thursday)
  const sheet = page.getByRole('dialog')
  await sheet.getByRole('radio', { name: 'R. Quillan', checked: true }).waitFor()
  const at = await sheet.getByRole('group', { name: 'Day', exact: true }).getByRole('spinbutton').allTextContents()
  expect(at.map(Number)).toEqual(
    dayOf(dayNumber(start) + 10)
      .split('-')
      .map(Number)
      .reverse(),
  )
  expect(faults).toEqual([])
  await context.close()
})

it('a lift moves by nine days with what hangs on it, and is taken back', { timeout: 240_000 }, async () => {
  const { context, page, faults } = await open(browser)
  const name = `Dunlin ${Date.now() % 100_000}`
  await booked(context, name)
  await signIn(page, 'principal')
  await page.goto('/board')
  await settle(page)
  const sheet = page.getByRole('dialog')
  await page.getByRole('button', { name: `Move to…, ${name}, job` }).click()
  await sheet.getByLabel('What for').selectOption('meter visit')
  await sheet.getByRole('button', { name: 'Place it' }).click()
  await sheet.waitFor({ state: 'detached' })

  await page.goto(week(0))
  await settle(page)
  const move = page.getByRole('button', { name: `Move the lift of ${name}` })
  await move.focus()
  await page.keyboard.press('Enter')
  await day(page, 'Lift on', dayOf(dayNumber(start) + 9))
  await sheet.getByText('It keeps its 3 days ashore and its time of day.').waitFor()
  await sheet.getByText(shown(12), { exact: false }).first().waitFor()
  await sheet.getByRole('button', { name: 'Move the lift and 1 thing with it' }).click()
  await sheet.getByRole('button', { name: 'Good' }).click()
  await page.goto(week(9))
  await settle(page)
  await page
    .getByRole('article', { name: `${name}, meter visit` })
    .getByText('3 days ashore', { exact: false })
    .waitFor()

  // Taken back from the board, as a whole.
  await page.getByText(`${name}: lift`, { exact: false }).first().waitFor()
  await page
    .getByRole('listitem')
    .filter({ hasText: `${name}: lift` })
    .getByRole('button', { name: 'Take it back' })
    .click()
  await page.getByRole('article', { name: `${name}, meter visit` }).waitFor({ state: 'detached' })
  await page.goto(week(3))
  await settle(page)
  await page
    .getByRole('article', { name: `${name}, meter visit` })
    .getByText('3 days ashore', { exact: false })
    .waitFor()
  await move.waitFor()
  expect(faults).toEqual([])
  await context.close()
})

/** What the lanes come to on paper: sheets, and the smallest letters in points. */
function onPaper(page: Page) {
  return page.evaluate(() => {
    window.dispatchEvent(new Event('beforeprint'))
    const lanes = document.querySelector<HTMLElement>('section[aria-label="The lanes of the diary"]')
    if (!lanes) throw new Error('the board has no lanes')
    const sizes = [...lanes.querySelectorAll<HTMLElement>('*')]
      .filter((one) => one.offsetParent && [...one.childNodes].some((n) => n.nodeType === 3 && n.textContent?.trim()))
      .map((one) => Number.parseFloat(getComputedStyle(one).fontSize))
    const sheets = [...lanes.querySelectorAll('[data-sheet]')]
    const said = {
      points: (Math.min(...sizes) * Number(lanes.style.zoom || 1) * 72) / 96,
      captions: sheets.map((sheet) => sheet.firstElementChild?.textContent),
      lanes: sheets.reduce((sum, sheet) => sum + sheet.querySelectorAll('h3').length, 0),
      heads: sheets.map((sheet) => [...(sheet.lastElementChild?.children ?? [])].slice(1, 8).map((h) => h.textContent)),
    }
    window.dispatchEvent(new Event('afterprint'))
    return { ...said, left: lanes.querySelectorAll('[data-sheet]').length, shown: lanes.querySelectorAll('h3').length }
  })
}

it('a week too crowded for one sheet goes on another under the same head, and nothing falls under 7 pt', {
  timeout: 120_000,
}, async () => {
  const { context, page } = await open(browser)
  await signIn(page, 'principal')
  await page.goto('/board')
  await settle(page)
  const quiet = await onPaper(page)
  expect(quiet.captions).toEqual([])
  expect(quiet.points).toBeGreaterThanOrEqual(6.99)
  await page.evaluate(() => {
    // Forty people: the lanes that are there, time and again.
    const lanes = [...document.querySelectorAll('section[aria-label="The lanes of the diary"] > section > section')]
    const full = lanes.filter((lane) => !(lane as HTMLElement).dataset.empty)
    while (full.length > 0 && document.querySelectorAll('section[aria-label="The lanes of the diary"] h3').length < 45)
      for (const lane of full) lane.after(lane.cloneNode(true))
  })
  const crowded = await onPaper(page)
  expect(crowded.captions.length).toBeGreaterThan(1)
  expect(crowded.captions.at(-1)).toMatch(new RegExp(`sheet ${crowded.captions.length} of ${crowded.captions.length}$`))
  expect(crowded.points).toBeGreaterThanOrEqual(6.99)
  expect(new Set(crowded.heads.map((head) => head.join())).size).toBe(1)
  expect(crowded.heads[0]).toHaveLength(7)
  expect(crowded.lanes).toBe(crowded.shown)
  expect(crowded.left).toBe(0)
  const pdf = (await page.pdf({ preferCSSPageSize: true, printBackground: true })).toString('latin1')
  expect(pdf.match(/\/Type\s*\/Page\b(?!s)/g)).toHaveLength(crowded.captions.length)
  await context.close()
})

it('a week is printed on one sheet', { timeout: 120_000 }, async () => {
  const { context, page } = await open(browser)
  await signIn(page, 'principal')
  for (const path of ['/board', '/board?by=yard', week(0)]) {
    await page.goto(path)
    await settle(page)
    const sheet = (await page.pdf({ preferCSSPageSize: true, printBackground: true })).toString('latin1')
    expect(sheet.match(/\/Type\s*\/Page\b(?!s)/g)).toHaveLength(1)
  }
  await context.close()
})
