import { Shape } from '../figure/shape'
import type { Spec } from '../figure/spec'
import { type Behind, lies } from './statements'
import { plural } from './words'

/** A grid to begin with: stations, rows and a dry row over a hull of known dimensions. */
export interface Layout {
  labels: string[]
  sides: ('port' | 'starboard')[]
  stations: number[]
  rows: number[]
  /** Millimetres. */
  along: number[]
  down: number[]
  /** Indexes of the dry places. */
  dry: number[]
  /** How many places the dry row lost to what is drawn behind the skin, and to what. */
  lost: number
  over: string[]
}

export interface Spacing {
  /** Metres between stations, along. */
  station: number
  /** Metres between rows, down the skin. */
  row: number
  /** Height of the dry row above the waterline, m: clear of the boot-top. */
  dry: number
}

/**
 * Usual on small craft: stations half a metre apart from the aft perpendicular, rows 0.3 m, the dry row a
 * quarter of a metre above the top of the boot-top (common practice, no source).
 */
export const usual: Spacing = { station: 0.5, row: 0.3, dry: 0.35 }

/** How far from the keel's edge a pad still lies flat, m; common practice, no source. */
const clear = 0.14

/** At most this many places: what one call takes, and more than a day's reading. */
export const mostPlaces = 400

/** Dry places below which no baseline is formed, and how many are wanted where she has the room. */
export const fewestDry = 6
const enoughDry = 8

/**
 * A dry place at every second station; at every one where that would be few. Dry places keep clear of what is
 * drawn behind the skin: a tank, a core or a bulkhead there would lift the baseline that all contrasts rest on.
 */
export function layOut(spec: Spec, spacing: Spacing, behind: readonly Behind[] = []): Layout {
  const sparse = grid(spec, spacing, behind, 2)
  return sparse.dry.length < enoughDry ? grid(spec, spacing, behind, 1) : sparse
}

function grid(spec: Spec, { station, row, dry }: Spacing, behind: readonly Behind[], everyDry: number): Layout {
  const shape = new Shape(spec)
  const out: Layout = { labels: [], sides: [], stations: [], rows: [], along: [], down: [], dry: [], lost: 0, over: [] }
  const put = (side: Side, k: number, r: number, along: number, down: number) => {
    if (r === 0) out.dry.push(out.labels.length)
    out.labels.push(`${k}/${r}`)
    out.sides.push(side)
    out.stations.push(k)
    out.rows.push(r)
    out.along.push(Math.round(along * 1000))
    out.down.push(Math.round(down * 1000))
  }
  const putDry = (side: Side, k: number, along: number) => {
    const over = behind.filter((thing) => reaches(thing, side, along, -dry))
    if (over.length === 0) return put(side, k, 0, along, -dry)
    out.lost++
    for (const { what } of over) if (!out.over.includes(what)) out.over.push(what)
  }
  for (const side of ['port', 'starboard'] as const)
    for (let k = 1; k * station <= spec.lwl + 1e-9; k++) {
      const x = k * station
      const girth = shape.girth(x)
      if (k % everyDry === 0 && shape.sheer(x) > dry + clear) putDry(side, k, x)
      for (let r = 1, d = row / 2; d <= girth - clear; r++, d += row) put(side, k, r, x, d)
    }
  return out
}

type Side = 'port' | 'starboard'

/** Whether a pad set down there lies over a thing, or so near that its edge does. */
function reaches(thing: Behind, side: Side, along: number, down: number): boolean {
  if (thing.side !== null && thing.side !== side) return false
  const { outline } = thing
  if (lies({ side, along, down }, thing)) return true
  return outline.some((to, i) => {
    const from = outline[i === 0 ? outline.length - 1 : i - 1] ?? to
    return distance([along, down], from, to) < clear
  })
}

type Point = readonly [along: number, down: number]

/** From a point to a line between two, m. */
function distance([x, y]: Point, [x0, y0]: Point, [x1, y1]: Point): number {
  const [dx, dy] = [x1 - x0, y1 - y0]
  const length = dx * dx + dy * dy
  const t = length === 0 ? 0 : Math.max(0, Math.min(1, ((x - x0) * dx + (y - y0) * dy) / length))
  return Math.hypot(x - x0 - t * dx, y - y0 - t * dy)
}

/** What the dry row lost, or that it is too poor for a baseline, in a sentence; bad where nothing can stand on it. */
export function drySaid({ dry, sides, lost, over }: Layout): { bad: boolean; text: string } | null {
  const things = over.join(', ')
  const bare = (['port', 'starboard'] as const).find((side) => !dry.some((i) => sides[i] === side))
  const wider = lost > 0 ? 'Set the dry row at another height, or the stations closer.' : 'Set the stations closer.'
  if (dry.length === 0 && lost > 0)
    return {
      bad: true,
      text: `No place of the dry row is clear of what is drawn behind the skin (${things}). ${wider}`,
    }
  if (dry.length < fewestDry)
    return {
      bad: true,
      text: `${plural(dry.length, 'dry place')}${lost > 0 ? ` clear of what is drawn behind the skin (${things})` : ''}: a baseline needs ${fewestDry}. ${wider}`,
    }
  if (lost > 0 && bare)
    return {
      bad: true,
      text: `To ${bare} no place of the dry row is clear of what is drawn behind the skin (${things}): a baseline needs both sides. ${wider}`,
    }
  if (lost > 0)
    return {
      bad: false,
      text: `Left out of the dry row: ${plural(lost, 'place')} over or beside what is drawn behind the skin (${things}).`,
    }
  return null
}
