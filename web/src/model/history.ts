import { medianOfNumbers } from '../measure/order'

/**
 * A vessel's history as it comes over the wire, columns aligned with an axis of places, and the view of it
 * that screens draw. Values are twentieths of a scale unit, as on the wire, until they are shown.
 */
export type Column = readonly (number | null)[]

export interface Axis {
  ids: readonly (string | null)[]
  labels: readonly (string | null)[]
  sides: readonly (string | null)[]
  stations: Column
  rows: Column
  along: Column
  down: Column
  mirrors: Column
}

export type Standing = 'reference' | 'same' | 'alike' | 'unlike' | 'quoted'

export interface HistoryPass {
  id: string
  on: string
  standing: Standing
  standingReason: string
  baseline: { medianFortieths?: number | null; scatter?: number | null; count: number; reasons: { text: string }[] }
  values: Column
  contrasts: Column
  flags: Column
}

/** Bits of a flag column, as graph/schema/history.graphqls lists them. */
export const flag = {
  below: 1,
  above: 2,
  range: 4,
  void: 8,
  follow: 16,
  unread: 32,
  corrected: 64,
  repeated: 128,
  dry: 256,
  seenBefore: 512,
} as const

export interface Spot {
  slot: number
  id: string
  label: string
  side: 'port' | 'starboard' | 'centre'
  station: number
  row: number
  /** Metres. */
  along: number
  down: number
  /** Slot of the mirror place on the other side. */
  mirror: number | null
}

export function spots(axis: Axis): Spot[] {
  return axis.ids.map((id, slot) => ({
    slot,
    id: id ?? '',
    label: axis.labels[slot] ?? '',
    side: (axis.sides[slot] ?? 'port') as Spot['side'],
    station: axis.stations[slot] ?? 0,
    row: axis.rows[slot] ?? 0,
    along: (axis.along[slot] ?? 0) / 1000,
    down: (axis.down[slot] ?? 0) / 1000,
    mirror: axis.mirrors[slot] == null ? null : (axis.mirrors[slot] as number) - 1,
  }))
}

/** What a pass says of one place. */
export interface Said {
  /** Twentieths; null where not read. */
  value: number | null
  /** Twentieths above the pass's own dry baseline; null where there is none. */
  contrast: number | null
  flags: number
}

export function said(pass: HistoryPass, slot: number): Said {
  return {
    value: pass.values[slot] ?? null,
    contrast: pass.contrasts[slot] ?? null,
    flags: pass.flags[slot] ?? 0,
  }
}

const has = (flags: number, bit: number) => (flags & bit) !== 0

/** Counts among the readings: read, in the pass's own figures, neither void nor a dry place. */
export function stands(it: Said): boolean {
  return it.value !== null && !has(it.flags, flag.void) && !has(it.flags, flag.dry)
}
export const isDry = (it: Said) => has(it.flags, flag.dry)
export const isVoid = (it: Said) => has(it.flags, flag.void)
export const isUnread = (it: Said) => it.value === null && has(it.flags, flag.unread)
/** Not come to yet: neither read nor noted as not reached. */
export const isDue = (it: Said) => it.value === null && !has(it.flags, flag.unread)
export const isFollow = (it: Said) => has(it.flags, flag.follow)
/** At an end of the scale, or a range: a bound and no number to subtract. */
export const isBound = (it: Said) => has(it.flags, flag.below | flag.above | flag.range)

/** Lower limits of steps 1 to 4 above the baseline, scale units; null where the pass has no baseline. */
export type Edges = [number, number, number, number]

/**
 * The first edge is 2.5 times the scatter of the pass's own baseline, the others a setting of the practice;
 * one that is not beyond the edge before it is pushed there, so that steps stay in order.
 */
export function edgesOf(pass: HistoryPass, practice: readonly number[]): Edges | null {
  const { scatter, medianFortieths } = pass.baseline
  if (scatter == null || medianFortieths == null) return null
  const first = Math.round(25 * scatter) / 10
  const rest = [practice[0] ?? 9, practice[1] ?? 15, practice[2] ?? 22]
  const out = [first]
  for (const edge of rest) out.push(Math.max(edge, (out.at(-1) ?? 0) + 0.1))
  return out as Edges
}

export function stepOf(above: number, edges: Edges): number {
  return edges.filter((edge) => above >= edge).length
}

const plain = (edge: number) => (Number.isInteger(edge) ? String(edge) : edge.toFixed(1))

/** Words of the five steps, as the legend prints them. */
export function edgeWords(edges: Edges): string[] {
  const [a, b, c, d] = edges.map(plain)
  return [`under ${a}`, `${a} to ${b}`, `${b} to ${c}`, `${c} to ${d}`, `${d} and over`]
}

/** As it stands on the hull: whole units, a limit with its sign. */
export function figureOf(it: Said): string {
  if (it.value === null) return ''
  const whole = String(Math.round(it.value / 20))
  if (has(it.flags, flag.below)) return `<${whole}`
  if (has(it.flags, flag.above)) return `>${whole}`
  return whole
}

/** As it is written out: "35.3", "<5.0", "35.35"; a dash where nothing was read. */
export function readOf(it: Said, quoted = false): string {
  if (it.value === null) return '–'
  if (quoted && it.value % 20 === 0) return String(it.value / 20)
  const text = units(it.value)
  if (has(it.flags, flag.below)) return `<${text}`
  if (has(it.flags, flag.above)) return `>${text}`
  return has(it.flags, flag.range) ? `about ${text}` : text
}

/** Twentieths as scale units with one decimal, two where the value needs them. */
export function units(twentieths: number): string {
  const size = Math.abs(twentieths)
  return `${twentieths < 0 ? '−' : ''}${(size / 20).toFixed(size % 2 === 0 ? 1 : 2)}`
}

/** A contrast or a difference, with its sign and to a tenth: no finer than it is known. */
export function signedUnits(twentieths: number): string {
  const tenths = Math.round(Math.abs(twentieths) / 2)
  const sign = tenths === 0 ? '±' : twentieths > 0 ? '+' : '−'
  return `${sign}${(tenths / 10).toFixed(1)}`
}

/** The tenth dropped below the line, 35₃: only where one place is read. */
export function sounding(it: Said): { whole: string; tenth: string } | null {
  if (it.value === null || isBound(it)) return null
  const text = units(Math.abs(it.value))
  const [whole = '', tenth = ''] = text.split('.')
  return { whole: it.value < 0 ? `−${whole}` : whole, tenth }
}

export function comparable(standing: Standing): boolean {
  return standing === 'same' || standing === 'alike' || standing === 'reference'
}

/** The middle of a list, twentieths kept; null of nothing. */
export function middle(values: readonly number[]): number | null {
  return values.length === 0 ? null : medianOfNumbers(values)
}

/** How the places of a pass stand above its own dry baseline, twentieths; null where none does. */
export function heights(all: readonly Spot[], pass: HistoryPass) {
  const found = all.flatMap(({ slot }) => {
    const it = said(pass, slot)
    return stands(it) && it.contrast !== null ? [it.contrast] : []
  })
  const mid = middle(found)
  return mid === null ? null : { all: found, least: Math.min(...found), middle: mid, most: Math.max(...found) }
}

/** What a place is called: port 13/3. */
export const nameOf = ({ side, label }: Spot) => `${side} ${label}`

/** One reading as the figure draws it; domain/figure Reading is its twin in Go. */
export interface FigureReading {
  id: string
  name?: string
  side: Spot['side']
  along: number
  down: number
  value?: string
  above?: number
  step: number
  gap?: 'unread' | 'void' | 'due'
  follow?: boolean
  dry?: boolean
  said?: 'up' | 'down' | 'none' | 'untold'
  by?: string
}

/** A pass on the hull. Without a baseline, and for quoted or unlike passes, marks are bare figures. */
export function figureReadings(
  all: readonly Spot[],
  pass: HistoryPass,
  edges: Edges | null,
  { bare = false, planned }: { bare?: boolean; planned?: ReadonlySet<number> } = {},
): FigureReading[] {
  const out: FigureReading[] = []
  for (const spot of all) {
    const it = said(pass, spot.slot)
    const base = { id: spot.id, name: nameOf(spot), side: spot.side, along: spot.along, down: spot.down }
    if (isUnread(it)) out.push({ ...base, step: -1, gap: 'unread' })
    else if (it.value === null) {
      if (planned?.has(spot.slot)) out.push({ ...base, step: -1, gap: 'due' })
    } else if (isVoid(it)) out.push({ ...base, step: -1, gap: 'void' })
    else {
      const above = it.contrast === null ? null : it.contrast / 20
      out.push({
        ...base,
        value: figureOf(it),
        ...(above === null ? {} : { above }),
        step: bare || edges === null || above === null ? -1 : stepOf(above, edges),
        ...(isFollow(it) ? { follow: true } : {}),
        ...(isDry(it) ? { dry: true } : {}),
      })
    }
  }
  return out
}

export function signedWhole(twentieths: number): string {
  const whole = Math.round(twentieths / 20)
  return `${whole > 0 ? '+' : whole < 0 ? '−' : '±'}${Math.abs(whole)}`
}
