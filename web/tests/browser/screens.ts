import type { BrowserContext, Page } from 'playwright-core'
import { ask, demo, settle } from './open'

export interface Screen {
  name: string
  path: string
}

interface Edges<Node> {
  edges: { node: Node }[]
}

/** Addresses of what was issued: documents that are served with every script shut out. */
export const issued = /\/report\.html$|\/addenda\/\d+\/page$/

/** Every screen of the office, by its address in the running demonstration. */
export async function screens(context: BrowserContext): Promise<Screen[]> {
  const { vessels } = await ask<{ vessels: Edges<{ id: string; name: string }> }>(context, 'VesselsPage', {
    search: 'Tamsel',
  })
  const vessel = vessels.edges[0]?.node
  if (!vessel) throw new Error('the demo has no Tamsel')
  const { vessel: book } = await ask<{ vessel: { jobs: { id: string; stage: string }[] } }>(context, 'VesselBrief', {
    id: vessel.id,
  })
  const { reports } = await ask<{ reports: Edges<{ id: string; state: string }> }>(context, 'ReportsPage')
  const found = { visit: '', pass: '', job: '' }
  const drying = await dryingJob(context)
  for (const { id } of book.jobs) {
    const { job } = await ask<{ job: { visits: { id: string; passes: { id: string; state: string }[] }[] } }>(
      context,
      'JobPage',
      { id },
    )
    for (const visit of job.visits)
      for (const pass of visit.passes)
        if (!found.pass || pass.state === 'open') Object.assign(found, { job: id, visit: visit.id, pass: pass.id })
  }
  const { parties } = await ask<{ parties: Edges<{ id: string; isYard: boolean }> }>(context, 'PeoplePage', {})
  const yard = parties.edges.find(({ node }) => node.isYard)?.node.id
  const client = parties.edges.find(({ node }) => !node.isYard)?.node.id
  const now = new Date().toISOString()
  const { board } = await ask<{ board: { spells: { id: string; actualLift: string | null }[] } }>(
    context,
    'BoardPage',
    {
      from: now,
      to: new Date(Date.now() + 40 * 86_400_000).toISOString(),
    },
  )
  const haulOut = board.spells.find(({ actualLift }) => !actualLift)?.id
  const { instruments } = await ask<{ instruments: Edges<{ id: string; name: string }> }>(context, 'InstrumentsPage')
  const meter = instruments.edges.find(({ node }) => node.name === 'Skerrow deep No. 2')?.node.id
  const { engagements: enquiries } = await ask<{ engagements: Edges<{ id: string }> }>(context, 'EnquiriesPage', {
    open: true,
  })
  const { likelyDoubles: doubles } = await ask<{ likelyDoubles: { first: { id: string }; second: { id: string } }[] }>(
    context,
    'DoublesPage',
  )
  const kits = meter
    ? (
        await ask<{ instrumentBook: { kits: { id: string }[]; comparisons: { id: string }[] } }>(
          context,
          'InstrumentPage',
          { id: meter },
        )
      ).instrumentBook
    : undefined
  const named = (name: string) => instruments.edges.find(({ node }) => node.name === name)?.node.id
  const others = await states(context)
  const added = reports.edges.find(({ node }) => node.state === 'amended')?.node.id
  const { followThrough } = await ask<{ followThrough: { letters: { id: string }[] } }>(context, 'FollowThrough', {
    vessel: vessel.id,
  })
  const letter = followThrough.letters[0]?.id
  const of = (state: RegExp) => reports.edges.find(({ node }) => state.test(node.state))?.node.id
  const list: [name: string, path: string | undefined | false][] = [
    ['today', '/today'],
    ['board', '/board'],
    ['board-yards', '/board?by=yard'],
    ['board-day', '/board?span=day'],
    ['board-season', '/board?span=season'],
    ['yard', yard && `/yards/${yard}`],
    ['haul-out', haulOut && `/haul-outs/${haulOut}`],
    ['vessels', '/vessels'],
    ['vessels-none', '/vessels?find=no+such+boat'],
    ['resurvey', `/vessels/${vessel.id}`],
    ['resurvey-both', `/vessels/${vessel.id}?show=both`],
    ['resurvey-change', `/vessels/${vessel.id}?show=change`],
    ['resurvey-evidence', `/vessels/${vessel.id}?show=change&says=areas-changed`],
    ['resurvey-map', `/vessels/${vessel.id}?show=map`],
    ['resurvey-table', `/vessels/${vessel.id}?table=1`],
    ['resurvey-close', `/vessels/${vessel.id}?show=change&close=1`],
    ['resurvey-then', `/vessels/${vessel.id}?show=then`],
    ...others,
    ['causes', `/vessels/${vessel.id}/causes`],
    ['brief', `/vessels/${vessel.id}/brief`],
    ['recommendations', `/vessels/${vessel.id}/recommendations`],
    ['vessel-reports', `/vessels/${vessel.id}/reports`],
    ['visit', found.visit && `/visits/${found.visit}`],
    ['readings', found.pass && `/passes/${found.pass}`],
    ['blank-sheet', found.pass && `/passes/${found.pass}/sheet`],
    ['enquiries', '/engagements'],
    ['enquiry-new', '/engagements/new'],
    ['enquiry', enquiries.edges[0] && `/engagements/${enquiries.edges[0].node.id}`],
    ['jobs', '/jobs'],
    ['jobs-issued', '/jobs?which=issued'],
    ['job', found.job && `/jobs/${found.job}`],
    ['survey-book', found.job && `/jobs/${found.job}/survey`],
    ['job-brief', found.job && `/jobs/${found.job}/brief`],
    ['job-brief-drying', drying && `/jobs/${drying}/brief`],
    ['drying', drying && `/jobs/${drying}/drying`],
    ['drying-none', found.job && `/jobs/${found.job}/drying`],
    ['reports', '/reports'],
    ['report', of(/issued|amended|replaced/) && `/reports/${of(/issued|amended|replaced/)}`],
    ['draft', of(/draft|review/) && `/reports/${of(/draft|review/)}`],
    ['report-added-to', added && `/reports/${added}`],
    ['report-history', added && `/reports/${added}/history`],
    ['report-page', added && `/reports/${added}/report.html`],
    ['addendum', added && `/reports/${added}/addenda/1/page`],
    ['letter', letter && `/letters/${letter}`],
    ['reinspections', '/reinspections'],
    ['reinspections-later', '/reinspections?show=later'],
    ['reinspection-rules', '/reinspections/rules'],
    ['money', '/money'],
    ['money-issued', '/money?show=issued'],
    ['money-settings', '/money/settings'],
    ['notices', '/notices'],
    ['figures', '/figures'],
    ['people', '/people'],
    ['person', client && `/people/${client}`],
    ['people-doubles', '/people/doubles'],
    ['people-beside', doubles[0] && `/people/doubles?first=${doubles[0].first.id}&second=${doubles[0].second.id}`],
    ['retention', '/settings/retention'],
    ['instruments', '/instruments'],
    ['instrument', meter && `/instruments/${meter}`],
    ['kit', meter && `/instruments/${meter}/kit`],
    ['kit-filled', kits?.kits[0] && `/instruments/${meter}/kit?replaces=${kits.kits[0].id}`],
    ['cross-readings', meter && `/instruments/${meter}/beside`],
    [
      'cross-readings-filled',
      kits?.comparisons[0] && `/instruments/${meter}/beside?replaces=${kits.comparisons[0].id}`,
    ],
    ['instrument-drifts', named('Skerrow deep No. 1') && `/instruments/${named('Skerrow deep No. 1')}`],
    ['instrument-unmeasured', named('Skerrow pins') && `/instruments/${named('Skerrow pins')}`],
    ['half-hour', '/instruments/half-hour'],
    ['settings', '/settings'],
    ['settings-figures', '/settings/figures'],
    ['wordings', '/settings/wordings'],
    ['not-found', '/no/such/page'],
  ]
  return list.flatMap(([name, path]) => (path ? [{ name, path }] : []))
}

/** The comparing screens in states that matter: a single pass, none yet, cannot tell, quoted, two depths, a large hull. */
async function states(context: BrowserContext): Promise<[name: string, path: string | undefined | false][]> {
  const vessel = async (name: string) =>
    (await ask<{ vessels: Edges<{ id: string }> }>(context, 'VesselsPage', { search: name })).vessels.edges[0]?.node.id
  const [single, none, unlike, depths, tamsel, vesper] = await Promise.all(
    ['Bryony Ann', 'Brown Linnet', 'Wych Elm', 'Alder Carr', 'Tamsel', 'Old Vesper'].map(vessel),
  )
  const first = async (id: string | undefined) =>
    (await ask<{ vessel: { history: { passes: { id: string }[] } } }>(context, 'Resurvey', { id })).vessel.history
      .passes[0]?.id
  const { vessel: unread } = await ask<{ vessel: { jobs: { id: string }[] } }>(context, 'VesselBrief', { id: none })
  return [
    ['resurvey-single', single && `/vessels/${single}`],
    ['resurvey-none', none && `/vessels/${none}`],
    ['resurvey-unlike', unlike && `/vessels/${unlike}`],
    ['resurvey-alike', vesper && `/vessels/${vesper}?show=change&beside=${await first(vesper)}`],
    ['resurvey-depths', depths && `/vessels/${depths}`],
    ['resurvey-quoted', tamsel && `/vessels/${tamsel}?show=then&beside=${await first(tamsel)}`],
    ['causes-none', none && `/vessels/${none}/causes`],
    ['job-brief-first', unread.jobs[0] && `/jobs/${unread.jobs[0].id}/brief`],
  ]
}

/** Screens that nobody need be signed in for. */
export const outside: Screen[] = [
  { name: 'sign-in', path: '/sign-in' },
  { name: 'reset', path: '/reset' },
  { name: 'invitation', path: '/invitation/no-such-token' },
  { name: 'client-shut', path: '/s/no-such-token' },
  { name: 'terms-shut', path: '/t/no-such-token' },
  { name: 'yard-shut', path: '/y/no-such-token' },
  { name: 'my-sign-in', path: '/my' },
  { name: 'as-issued', path: '/as-issued' },
  { name: 'unsubscribe', path: '/unsubscribe/no-such-token' },
]

/** Screens of a client who keeps reports in an account; signs the context in to it. */
export async function mine(page: Page): Promise<Screen[]> {
  const { email, password } = demo().client
  await page.goto('/my')
  await page.getByLabel('E-mail').fill(email)
  await page.getByLabel('Password').fill(password)
  await page.getByRole('button', { name: 'Open my reports' }).click()
  await page.getByRole('heading', { name: 'My boats' }).waitFor()
  await settle(page)
  const paths = await page
    .locator('main li a')
    .evaluateAll((links) => links.map((link) => (link as HTMLAnchorElement).pathname))
  return [
    { name: 'my-boats', path: '/my' },
    ...[...new Set(paths)].map((path, k) => ({ name: `my-report-${k + 1}`, path })),
  ]
}

/** The job under which a hull dries: the demo’s only repair that is supervised. */
export async function dryingJob(context: BrowserContext): Promise<string | undefined> {
  const { vessels } = await ask<{ vessels: Edges<{ id: string }> }>(context, 'VesselsPage', { search: 'Corncrake' })
  const { vessel } = await ask<{ vessel: { jobs: { id: string; kind: string }[] } }>(context, 'VesselBrief', {
    id: vessels.edges[0]?.node.id,
  })
  return vessel.jobs.find(({ kind }) => kind === 'repair supervision')?.id
}
