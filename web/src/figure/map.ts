import { type Reading, type Surface, stepOf } from './options'
import type { Line } from './plate'
import { type Point, sq } from './shape'
import { type Sheet, sides } from './sheet'
import { outline, waterline } from './skin'

/** Metres between two rulings, the height of a band, how often it is tried along the hull. */
const ruling = 0.04
const band = ruling / 2
const stride = 0.05
/** How far from the nearest place the map is drawn, unless the options say otherwise. */
const usualReach = 0.45
/** m², keeps one place from outweighing all at its own spot. */
const soften = 0.02
const unknown = 5
const off = -1

/** The map between the readings, ruled as an engraver lays a tint; hatched where nobody knows. */
export function contours(p: Sheet) {
  for (const side of sides) {
    mapSide(p, side)
    waterline(p, side)
    outline(p, side)
  }
}

type Side = (typeof sides)[number]

function mapSide(p: Sheet, side: Side) {
  const fills: Line[][] = Array.from({ length: unknown + 1 }, () => [])
  const rules: Line[][] = Array.from({ length: unknown + 1 }, () => [])
  const field = new Field(p, side)
  const tried = columns(p)
  for (let j = 0; j * band < p.h.half; j++) {
    const d = (j + 0.5) * band
    for (const run of runs(p, field, tried, d)) {
      const [y0, y1] = [p.Y(side, d - band / 2), p.Y(side, d + band / 2)]
      const [x0, x1] = [p.X(run.from), p.X(run.to)]
      fills[run.step]?.push([
        [x0, y0],
        [x1, y0],
        [x1, y1],
        [x0, y1],
      ])
      if (ruled(run.step, j))
        rules[run.step]?.push([
          [x0, y1],
          [x1, y1],
        ])
    }
  }
  fills.forEach((lines, n) => {
    if (lines.length > 0)
      p.add({ kind: 'path', class: `fill f${n}`, lines, closed: true, ...(n === unknown ? { fill: 'unread' } : {}) })
  })
  rules.forEach((lines, n) => {
    if (lines.length > 0) p.path(`tint t${n}`, ...lines)
  })
}

/** Whether a step has a line at the foot of band j. */
function ruled(step: number, j: number): boolean {
  if (step === 1) return j % 8 === 1
  if (step === 2) return j % 4 === 1
  return (step === 3 || step === 4) && j % 2 === 1
}

/** Where a ruling is tried, and the girth there. */
function columns(p: Sheet): Point[] {
  const { wetFrom: from, wetTo: to } = p.h
  return Array.from({ length: Math.ceil((to - from) / stride) + 1 }, (_, i) => {
    const x = Math.min(to, from + i * stride)
    return [x, p.h.girth(x)]
  })
}

/** Cuts the line at depth d into stretches of one step. */
function runs(p: Sheet, field: Field, tried: Point[], d: number) {
  const step = (x: number, girth: number) => (d >= girth ? off : field.step(x, d))
  const list: { from: number; to: number; step: number }[] = []
  let last = off
  let since = 0
  let before = 0
  tried.forEach(([x, girth], i) => {
    const n = step(x, girth)
    if (n !== last) {
      const edge = i === 0 ? x : turn((v) => step(v, p.h.girth(v)), before, x, last)
      if (last !== off) list.push({ from: since, to: edge, step: last })
      last = n
      since = edge
    }
    before = x
  })
  if (last !== off) list.push({ from: since, to: p.h.wetTo, step: last })
  return list
}

/** Where f leaves the value it has at a, before b, to 3 mm. */
function turn(f: (x: number) => number, from: number, to: number, was: number): number {
  let [a, b] = [from, to]
  for (let i = 0; i < 4; i++) {
    const m = (a + b) / 2
    if (f(m) === was) a = m
    else b = m
  }
  return (a + b) / 2
}

/** The contrasts of one side between its places. */
export class Field {
  private readonly near: Reading[]
  private readonly edges: readonly number[]
  private readonly reach: number

  constructor(
    private readonly p: Pick<Sheet, 'o' | 'h'>,
    private readonly side: Side,
  ) {
    this.near = (p.o.readings ?? []).filter((q) => q.side === side && !q.dry)
    this.edges = p.o.edges ?? [0, 0, 0, 0]
    this.reach = p.o.reach || usualReach
  }

  /** The step at a spot, or unknown: about a place that was not read, and where the surface does not know. */
  step(x: number, d: number): number {
    const { surface } = this.p.o
    const near = this.nearest(x, d)
    if (surface ? near && !had(near) : !near || !had(near)) return unknown
    const above = surface ? this.lattice(surface, x, d) : this.weighed(x, d)
    return above === null ? unknown : stepOf(above, this.edges)
  }

  private nearest(x: number, d: number): Reading | null {
    let least = sq(this.reach)
    let found: Reading | null = null
    for (const q of this.near) {
      const r2 = sq(q.along - x) + sq(q.down - d)
      if (r2 < least) [least, found] = [r2, q]
    }
    return found
  }

  /** The mean of all contrasts weighed by 1/(distance² + soften)². */
  private weighed(x: number, d: number): number {
    let sum = 0
    let weight = 0
    for (const q of this.near) {
      if (!had(q)) continue
      const w = 1 / sq(sq(q.along - x) + sq(q.down - d) + soften)
      sum += w * (q.above ?? 0)
      weight += w
    }
    return sum / weight
  }

  private lattice(s: Surface, x: number, d: number): number | null {
    const out = Math.max(0, this.p.h.girth(x) - d)
    const [u, v] = [(x - s.along) / s.step, ((this.side === 'port' ? -out : out) - s.across) / s.step]
    const doubt = bilinear(s, s.doubt, u, v)
    return doubt === null || doubt >= s.hatchFrom ? null : bilinear(s, s.above, u, v)
  }
}

const had = (q: Reading) => !q.gap && q.step !== -1

/** Between the four cells about a spot of the lattice; null beyond it. */
function bilinear({ cols, rows }: Surface, z: readonly number[], u: number, v: number): number | null {
  if (cols < 2 || rows < 2 || z.length < cols * rows) return null
  if (!(u >= 0 && u <= cols - 1 && v >= 0 && v <= rows - 1)) return null
  const [i, j] = [Math.min(Math.floor(u), cols - 2), Math.min(Math.floor(v), rows - 2)]
  const [a, b] = [u - i, v - j]
  const at = (k: number) => z[k] as number
  const k = j * cols + i
  return (1 - b) * ((1 - a) * at(k) + a * at(k + 1)) + b * ((1 - a) * at(k + cols) + a * at(k + cols + 1))
}
