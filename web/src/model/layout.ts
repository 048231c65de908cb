import { Shape } from '../figure/shape'
import type { Spec } from '../figure/spec'

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

/** A dry place at every second station; at every one where that would be few. */
export function layOut(spec: Spec, spacing: Spacing): Layout {
  const sparse = grid(spec, spacing, 2)
  return sparse.dry.length < enoughDry ? grid(spec, spacing, 1) : sparse
}

function grid(spec: Spec, { station, row, dry }: Spacing, everyDry: number): Layout {
  const shape = new Shape(spec)
  const out: Layout = { labels: [], sides: [], stations: [], rows: [], along: [], down: [], dry: [] }
  const put = (side: 'port' | 'starboard', k: number, r: number, along: number, down: number) => {
    if (r === 0) out.dry.push(out.labels.length)
    out.labels.push(`${k}/${r}`)
    out.sides.push(side)
    out.stations.push(k)
    out.rows.push(r)
    out.along.push(Math.round(along * 1000))
    out.down.push(Math.round(down * 1000))
  }
  for (const side of ['port', 'starboard'] as const)
    for (let k = 1; k * station <= spec.lwl + 1e-9; k++) {
      const x = k * station
      const girth = shape.girth(x)
      if (k % everyDry === 0 && shape.sheer(x) > dry + clear) put(side, k, 0, x, -dry)
      for (let r = 1, d = row / 2; d <= girth - clear; r++, d += row) put(side, k, r, x, d)
    }
  return out
}
