import type { BrowserContext } from 'playwright-core'
import { fromDims } from '../../src/figure/defaults'
import { newId } from '../../src/model/id'
import { layOut } from '../../src/model/layout'
import { ask, demo } from '../browser/open'

interface Meters {
  vessel: { history: { passes: { hand: string; instrument: { id: string } | null; scale: { id: string } | null }[] } }
}

/** At most so many places, or readings, in one call. */
const most = { places: 400, readings: 180 }

/**
 * A motor vessel of many hundreds of places, read twice, half a year apart, raised over one field the second time.
 * Each time for another client; what was read for the first is for that client only.
 */
export async function largeHull(context: BrowserContext): Promise<{ vessel: string; places: number; first: string }> {
  const mutation = () => newId('mut')
  const vessel = newId('vsl')
  const element = newId('elm')
  const { spec } = fromDims('chineMotorBoat', { loa: 21, beam: 5.6, draught: 1.7 })
  if (!spec) throw new Error('the figure of a chine hull is not drawn')
  const laid = layOut(spec, { station: 0.45, row: 0.25, dry: 0.35 })
  const n = laid.labels.length
  await ask(context, 'AddVessel', { input: { mutation: mutation(), id: vessel, name: 'Broad Reach of Places' } })
  await ask(context, 'AddElement', {
    input: { mutation: mutation(), id: element, vessel, kind: 'hull', figure: spec, bootTopMm: 60 },
  })
  for (let from = 0; from < n; from += most.places) {
    const part = <T>(list: T[]) => list.slice(from, from + most.places)
    await ask(context, 'AddPlaces', {
      input: {
        mutation: mutation(),
        element,
        ids: part(laid.labels).map(() => newId('plc')),
        labels: part(laid.labels),
        sides: part(laid.sides),
        along: part(laid.along),
        down: part(laid.down),
        stations: part(laid.stations),
        rows: part(laid.rows),
        besideOld: true,
      },
    })
  }
  const plan = newId('pln')
  const ordinals = laid.labels.map((_, k) => k + 1)
  await ask(context, 'AddPlan', {
    input: { mutation: mutation(), id: plan, vessel, places: ordinals, dry: laid.dry.map((k) => k + 1) },
  })
  const { parties } = await ask<{ parties: { edges: { node: { id: string; isYard: boolean } }[] } }>(
    context,
    'PeoplePage',
    {},
  )
  const clients = parties.edges.filter(({ node }) => !node.isYard)
  const jobs = clients.slice(0, 2).map(({ node }) => ({ id: newId('job'), client: node.id }))
  // The client begins a survey with an enquiry; a program enters a job as it is.
  for (const { id, client } of jobs)
    await context.request.post('/graphql', {
      headers: { Authorization: `Bearer ${demo().apiKey}`, 'Content-Type': 'application/json' },
      data: {
        query: 'mutation($input: AddJobInput!) { addJob(input: $input) { __typename } }',
        variables: {
          input: {
            mutation: mutation(),
            id,
            vessel,
            client,
            kind: 'limited moisture',
            scope: 'Moisture of the underbody.',
          },
        },
      },
    })
  const tool = await meter(context)
  for (const [months, raised, job] of [
    [9, 0, jobs[0]?.id],
    [3, 12, jobs[1]?.id],
  ] as const) {
    const at = new Date(Date.now() - months * 30 * 86_400_000)
    const visit = newId('vis')
    await ask(context, 'PlanVisit', {
      input: {
        mutation: mutation(),
        id: visit,
        job,
        kind: 'meter visit',
        from: at.toISOString(),
        to: new Date(at.getTime() + 6 * 3_600_000).toISOString(),
        timeZone: 'Europe/London',
      },
    })
    const pass = newId('pas')
    await ask(context, 'OpenPass', {
      input: {
        mutation: mutation(),
        id: pass,
        visit,
        element,
        plan,
        ...tool,
        face: 'outside',
        surface: 'antifouling',
        drySurface: 'bare gelcoat',
        rain: 'none',
        source: 'metered',
        saltWiped: true,
        hoursSinceWash: 200,
        beganAt: at.toISOString(),
      },
    })
    const value = (k: number) => {
      const own = ((k * 7919 + 13) % 11) / 10 - 0.5
      if (laid.dry.includes(k)) return 12 + own
      const field =
        laid.sides[k] === 'port' && Math.abs((laid.along[k] ?? 0) - 9000) < 1500 && (laid.down[k] ?? 0) < 900
      return 20 + own + (laid.down[k] ?? 0) / 400 + (field ? raised : 0)
    }
    for (let from = 0; from < n; from += most.readings) {
      const part = ordinals.slice(from, from + most.readings)
      await ask(context, 'AddReadings', {
        input: {
          mutation: mutation(),
          pass,
          ids: part.map(() => newId('rdg')),
          places: part,
          placements: part.map((ordinal) => [Math.round(10 * value(ordinal - 1))]),
          takenAt: part.map((ordinal) => Math.round(at.getTime() / 1000) + 20 * ordinal),
        },
      })
    }
  }
  return { vessel, places: n, first: jobs[0]?.id ?? '' }
}

/** An instrument of the practice with its scale, and the hand that is signed in. */
async function meter(context: BrowserContext) {
  const { vessels } = await ask<{ vessels: { edges: { node: { id: string } }[] } }>(context, 'VesselsPage', {
    search: 'Tamsel',
  })
  const { vessel } = await ask<Meters>(context, 'Resurvey', { id: vessels.edges[0]?.node.id })
  const last = vessel.history.passes.findLast(({ instrument, scale }) => instrument && scale)
  const { viewer } = await ask<{ viewer: { member: { id: string } } }>(context, 'Viewer')
  return { hand: viewer.member.id, instrument: last?.instrument?.id, scale: last?.scale?.id }
}
