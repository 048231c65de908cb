import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/model/id'
import { launch, open, settle, signIn } from './open'
import { program, send } from './program'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

/** Days from a day of this file's own, where neither the demonstration nor another test plans anything. */
const days = (n: number, hours = 0) => new Date(Date.now() + (310 + n) * 86_400_000 + hours * 3_600_000).toISOString()

it('dry places keep clear of what lies behind, and why they changed stands beside them', {
  timeout: 180_000,
}, async () => {
  const { context, page, faults } = await open(browser)
  const [vessel, element, lining] = [newId('vsl'), newId('elm'), newId('lay')]
  await send(context, 'addVessel AddVesselInput', {
    id: vessel,
    name: `Knot ${Date.now() % 100_000}`,
    loaMm: 9400,
    beamMm: 3100,
    draughtMm: 1600,
  })
  await send(context, 'addElement AddElementInput', { id: element, vessel, kind: 'hull', bootTopMm: 60 })
  const drawn = (from: number, to: number) => [
    [from, -900],
    [to, -900],
    [to, 300],
    [from, 300],
  ]
  await send(context, 'addLayer AddLayerInput', {
    id: newId('lay'),
    element,
    kind: 'behind',
    what: 'water tank',
    side: 'port',
    outline: drawn(1800, 3200),
  })
  await send(context, 'addLayer AddLayerInput', {
    id: lining,
    element,
    kind: 'behind',
    what: 'foam lining',
    outline: drawn(-500, 9500),
  })
  await signIn(page, 'principal')
  await page.goto(`/vessels/${vessel}/brief`)
  await settle(page)
  await page.getByRole('button', { name: 'Lay out a grid' }).click()
  await page.getByText(/No place of the dry row is clear of what is drawn behind the skin \(.*foam lining/).waitFor()
  await page.keyboard.press('Escape')

  // The lining comes out: what is left to keep clear of is the tank, to port.
  await send(context, 'endLayer EndLayerInput', { id: lining, version: 1, on: new Date().toISOString().slice(0, 10) })
  await page.reload()
  await settle(page)
  await page.getByRole('button', { name: 'Lay out a grid' }).click()
  await page.getByText(/^Left out of the dry row: \d+ places? over or beside .* \(water tank\)\.$/).waitFor()
  await page.getByRole('button', { name: /^Keep \d+ places/ }).click()
  await page.getByRole('dialog').waitFor({ state: 'detached' })

  const { vessel: her } = await program<{ vessel: { plans: { places: number[]; dry: number[] }[] } }>(
    context,
    `{ vessel(id: "${vessel}") { plans { places dry } } }`,
  )
  const [plan, job, visit, pass] = [newId('pln'), newId('job'), newId('vis'), newId('pas')]
  await send(context, 'addPlan AddPlanInput', {
    id: plan,
    vessel,
    places: her.plans[0]?.places,
    dry: her.plans[0]?.dry.slice(1),
    dryChangeReason: 'the topsides aft were painted.',
  })
  await send(context, 'addJob AddJobInput', { id: job, vessel, kind: 'limited moisture' })
  await send(context, 'planVisit PlanVisitInput', {
    id: visit,
    job,
    kind: 'other',
    from: days(0),
    to: days(0, 1),
    timeZone: 'Europe/Dublin',
  })
  await send(context, 'openPass OpenPassInput', {
    id: pass,
    visit,
    element,
    plan,
    instrumentAsWritten: 'a meter',
    quoted: true,
    beganAt: days(0),
  })
  const why = /of version 2 of the plan\. They differ from the version before: the topsides aft were painted\.$/
  for (const path of [`/passes/${pass}`, `/passes/${pass}/sheet`]) {
    await page.goto(path)
    await settle(page)
    await page.getByText(why).waitFor()
  }
  await page.goto(`/vessels/${vessel}/brief`)
  await page.getByText('Dry places changed: the topsides aft were painted.').waitFor()
  expect(faults).toEqual([])
  await context.close()
})
