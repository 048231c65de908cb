/** A place of a plan, as the grid and the blank sheet need it. Millimetres in the hull's own axes. */
export interface PlanPlace {
  id: string
  /** For ever the place's own: "13/3". */
  label: string
  side: 'port' | 'starboard' | 'centre'
  station: number
  row: number
  along: number
  down: number
  /** One of the dry places above the boot-top, read first. */
  baseline: boolean
}

const sides = { port: 0, starboard: 1, centre: 2 } as const

/**
 * The order of work: the dry places first, then one station complete, all its rows from the boot-top
 * down, before the next; port from aft to forward, then starboard. The order of work is common practice, no source.
 */
export function walkOrder<P extends PlanPlace>(places: readonly P[]): P[] {
  return [...places].sort(
    (a, b) =>
      Number(b.baseline) - Number(a.baseline) ||
      sides[a.side] - sides[b.side] ||
      a.station - b.station ||
      a.row - b.row ||
      a.along - b.along,
  )
}

/** One side of the hull as a block: a line a station, a column a row; null where the hull has no such place. */
export interface Block<P> {
  side: PlanPlace['side']
  rows: number[]
  lines: { station: number; cells: (P | null)[] }[]
}

export function blocks<P extends PlanPlace>(places: readonly P[]): Block<P>[] {
  const out: Block<P>[] = []
  for (const side of ['port', 'starboard', 'centre'] as const) {
    const own = places.filter((place) => place.side === side)
    if (own.length === 0) continue
    const rows = unique(own.map((place) => place.row))
    const lines = unique(own.map((place) => place.station)).map((station) => ({
      station,
      cells: rows.map((row) => own.find((place) => place.station === station && place.row === row) ?? null),
    }))
    out.push({ side, rows, lines })
  }
  return out
}

const unique = (values: number[]) => [...new Set(values)].sort((a, b) => a - b)

/** Where an arrow key goes from a place: to the nearest place that way in its block, or nowhere. */
export function neighbour<P extends PlanPlace>(
  all: readonly Block<P>[],
  from: P,
  way: 'up' | 'down' | 'left' | 'right',
): P | null {
  const block = all.find(({ side }) => side === from.side)
  if (!block) return null
  let line = block.lines.findIndex(({ station }) => station === from.station)
  let column = block.rows.indexOf(from.row)
  const [dl, dc] = { up: [-1, 0], down: [1, 0], left: [0, -1], right: [0, 1] }[way] as [number, number]
  for (;;) {
    line += dl
    column += dc
    const cells = block.lines[line]?.cells
    if (!cells || column < 0 || column >= block.rows.length) return null
    const place = cells[column]
    if (place) return place
  }
}
