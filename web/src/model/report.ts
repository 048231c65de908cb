import type { Pin } from '../figure/options'
import type { FigureReading } from './history'

/** A report as data, the JSON of domain/report.Report; only what the page draws is named here. */
export interface ReportData {
  issue: {
    draft: boolean
    number?: string
    on?: string
    addendumTo?: string
    addendum?: number
    because?: string
    replaces?: string
  }
  practice: { name: string; place?: string; contact?: string[] }
  client: { name: string; as?: string }
  vessel: { name: string; former?: string[]; hullNumber?: string }
  kind: string
  scope?: Sentence[]
  inShort?: Sentence[]
  limits?: Sentence[]
  recommendations?: Advice[]
  boat?: Fact[]
  taken?: Fact[]
  hulls?: Hull[]
  passes?: ReportPass[]
  plates?: ReportPlate[]
  visits?: { on: string; ashore?: string; instrument?: string; surveyor?: string; standing: string; why?: string }[]
  changes?: { id: string; since: string; said?: Sentence[]; places?: PlaceChange[] }[]
  findings?: Finding[]
  photos?: ReportPhoto[]
  schedule?: ReportArea[]
  valuation?: ReportValue
  sections?: { id?: string; title: string; text: string[] | null }[]
  cautions?: string[]
  signature?: { name: string; as: string; on?: string }
  review?: string
  auditHead?: string
  invented?: string
}
export interface Sentence {
  claim: string
  runs: { text: string; strong?: boolean }[]
  see?: string[]
}
export interface Fact {
  name: string
  is: string
}
export interface Advice {
  grade: string
  what: string
  because?: string
  sure: string
  who?: string
  by?: string
  closedBy?: string
  state?: string
  first?: string
}
export interface Finding {
  id: string
  number: number
  title: string
  where?: string
  sure: string
  element?: string
  at?: Spot[]
  /** As drawn on the skin; its middle is the last spot. */
  drawn?: { side: Spot['side']; outline: [number, number][] }
  text?: Sentence[]
  measured?: Fact[]
}
export interface ReportPhoto {
  id: string
  number: number
  caption: string
  place?: string
  element?: string
  at?: Spot
  taken?: string
  by?: string
}
export interface ReportArea {
  name: string
  items?: { name: string; examined: string; why?: string; condition?: string; note?: string; finding?: string }[]
}
export interface ReportValue {
  figure: string
  basis: string
  on: string
  said?: Sentence[]
  comparables?: Fact[]
}
interface Spot {
  side: 'port' | 'starboard' | 'centre'
  along: number
  down: number
}
export interface Hull {
  element: string
  shape: unknown
  stations?: { number: number; along: number }[]
  rows?: number[]
  layers?: { name?: string; side: string; kind: string; outline: [number, number][] }[]
  fittings?: { name?: string; at: Spot }[]
  bared?: Spot[]
}
export interface ReportPass {
  id: string
  on: string
  element: string
  instrument: string
  ashore?: string
  noBaseline?: string
  edges?: string[]
  readings?: ReportReading[]
}
export interface ReportReading {
  place: string
  at: Spot
  dry?: boolean
  value?: string
  figure?: string
  contrast?: string
  step: number
  placements?: string[]
  gap?: 'unread' | 'void'
  why?: string
  follow?: boolean
}
export interface ReportPlate {
  id: string
  number: number
  title: string
  mode: 'readings' | 'change' | 'places'
  element: string
  pass?: string
  against?: string
  cartouche: [string, string]
  note?: string
  caption?: Sentence[]
  alt: string
}
export interface PlaceChange {
  place: string
  said: 'up' | 'down' | 'none' | 'untold'
  then?: string
  now?: string
  by?: string
  mark?: string
  reason?: string
}

/** What came as JSON, where it looks like a report. */
export function asReport(content: unknown): ReportData | null {
  if (typeof content !== 'object' || content === null) return null
  const it = content as Partial<ReportData>
  return it.issue && it.vessel && it.practice && it.client ? (it as ReportData) : null
}

/** What a plate draws: the pass as read, or what may be said of each place since an earlier one. */
export function plateReadings(report: ReportData, plate: ReportPlate): FigureReading[] {
  const pass = report.passes?.find(({ id }) => id === plate.pass) ?? report.passes?.[0]
  const readings = pass?.readings ?? []
  if (plate.mode === 'readings') return readings.map((r) => ({ ...base(r), ...drawn(r) }))
  if (plate.mode === 'places') return []
  const change = report.changes?.find(({ id }) => id === plate.against)
  const said = new Map(change?.places?.map((place) => [place.place, place]))
  return readings.flatMap((r) => {
    const it = said.get(r.place)
    if (!it || r.dry) return []
    return [{ ...base(r), step: -1, said: it.said, ...(it.mark ? { by: it.mark } : {}) }]
  })
}

/** The windows, photos and findings of a plate of places, each outline with the pin in its middle. */
export function platePins(report: ReportData, plate: ReportPlate): Pin[] {
  if (plate.mode !== 'places') return []
  const hull = report.hulls?.find(({ element }) => element === plate.element)
  if (!hull) return []
  const here = (element?: string) => element === hull.element || (!element && report.hulls?.length === 1)
  const pin = (id: string, at: Spot, kind: Pin['kind'], number?: number): Pin => ({
    id,
    side: at.side,
    along: at.along / 1000,
    down: at.down / 1000,
    kind,
    ...(number ? { word: String(number) } : {}),
  })
  return [
    ...(hull.bared ?? []).map((at) => pin('', at, 'window')),
    ...(report.photos ?? []).flatMap((p) => (p.at && here(p.element) ? [pin(p.id, p.at, 'photo', p.number)] : [])),
    ...(report.findings ?? []).flatMap((f) =>
      here(f.element)
        ? (f.at ?? []).map((at, k, all) => ({
            ...pin(f.id, at, 'finding', f.number),
            ...(f.drawn && k === all.length - 1
              ? { outline: f.drawn.outline.map(([x, y]) => [x / 1000, y / 1000] as [number, number]) }
              : {}),
          }))
        : [],
    ),
  ]
}

const base = (r: ReportReading) => ({
  id: r.place,
  side: r.at.side,
  along: r.at.along / 1000,
  down: r.at.down / 1000,
})

function drawn(r: ReportReading): Omit<FigureReading, 'id' | 'side' | 'along' | 'down'> {
  if (r.gap) return { step: -1, gap: r.gap }
  return {
    step: r.step,
    ...(r.figure ? { value: r.figure } : {}),
    ...(r.dry ? { dry: true } : {}),
    ...(r.follow ? { follow: true } : {}),
  }
}

/** What lies behind the hull of a plate, for the figure. */
export function hullOf(report: ReportData, plate: ReportPlate) {
  const hull = report.hulls?.find(({ element }) => element === plate.element) ?? report.hulls?.[0]
  const metres = (mm: number) => mm / 1000
  return {
    spec: hull?.shape,
    stations: (hull?.stations ?? []).map(({ number, along }) => ({ word: String(number), at: metres(along) })),
    rows: (hull?.rows ?? []).map((mm, row) => ({ word: row === 0 ? 'row 0' : String(row), at: metres(mm) })),
    layers: (hull?.layers ?? []).map((layer) => ({
      ...(layer.name ? { name: layer.name } : {}),
      side: (layer.side === 'port' || layer.side === 'starboard' ? layer.side : 'both') as
        | 'port'
        | 'starboard'
        | 'both',
      kind:
        layer.kind === 'bulkhead'
          ? ('bulkhead' as const)
          : layer.kind === 'outline'
            ? ('outline' as const)
            : ('tank' as const),
      outline: layer.outline.map(([x, y]) => [metres(x), metres(y)] as [number, number]),
    })),
    fittings: (hull?.fittings ?? []).map(({ name, at }) => ({
      ...(name ? { name } : {}),
      side: at.side,
      along: metres(at.along),
      down: metres(at.down),
    })),
  }
}
