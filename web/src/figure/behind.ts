import type { Layer, Side as Placed } from './options'
import type { Line } from './plate'
import type { Point } from './shape'
import { type Sheet, sides } from './sheet'
import { keelward } from './words'

type Side = (typeof sides)[number]

/** What lies behind the skin: dashed and faintly shaded, named by leaders. */
export function behind(p: Sheet) {
  for (const l of p.o.layers ?? []) {
    if (l.outline.length < 2) continue
    sides.forEach((side, i) => {
      if (l.side !== 'both' && l.side !== side) return
      layer(p, side, l)
      if (l.name && (l.side !== 'both' || i === 0)) {
        const [along, down] = anchor(p, l)
        p.wants.push({ side, text: l.name, along, down, ...(l.label ? { label: l.label } : {}) })
      }
    })
  }
}

function layer(p: Sheet, side: Side, l: Layer) {
  const bulkhead = l.kind === 'bulkhead'
  const keep = bulkhead ? 0 : 0.06 // m inside the keel's edge
  const points = bulkhead ? l.outline : [...l.outline, l.outline[0] as Point]
  const line = laid(p, side, points, keep)
  if (bulkhead) p.path('behind bulkhead', [...line, onSkin(p, side, points.at(-1) as Point, keep)])
  else p.area(l.kind === 'tank' ? 'behind tank' : 'behind', line)
}

/** A line over the skin in short steps along the hull, without its last point. */
export function laid(p: Sheet, side: Placed, points: readonly Point[], keep: number): Line {
  const line: Line = []
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1] as Point, points[i] as Point]
    const n = Math.max(1, Math.ceil(Math.abs(b[0] - a[0]) / 0.15))
    for (let j = 0; j < n; j++) line.push(onSkin(p, side, lerp(a, b, j / n), keep))
  }
  return line
}

const lerp = (a: Point, b: Point, t: number): Point => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t]

/** Keeps a point of an outline on the skin. */
function onSkin(p: Sheet, side: Placed, q: Point, keep: number): Point {
  const { aft, lwl, fore } = p.h.spec
  const x = Math.min(lwl + fore, Math.max(-aft, q[0]))
  return p.at(side, x, Math.max(-p.h.sheer(x), Math.min(q[1], p.h.girth(x) - keep)))
}

/** Where a layer's leader ends: its edge nearest the waterline, its lower edge near the keel, a bulkhead's top. */
function anchor(p: Sheet, l: Layer): Point {
  const first = l.outline[0] as Point
  let [lo, hi, top]: [Point, Point, Point] = [first, first, first]
  for (const q of l.outline) {
    lo = [Math.min(lo[0], q[0]), Math.min(lo[1], q[1])]
    hi = [Math.max(hi[0], q[0]), Math.max(hi[1], q[1])]
    if (q[1] < top[1]) top = q
  }
  if (l.kind === 'bulkhead') return top
  const g = p.h.girth((lo[0] + hi[0]) / 2)
  if (g > 0 && (lo[1] + hi[1]) / 2 > keelward * g) {
    const x = lo[0] + (hi[0] - lo[0]) * 0.9
    return [x, Math.min(hi[1], p.h.girth(x) - 0.06)]
  }
  return [lo[0] + (hi[0] - lo[0]) / 3, lo[1]]
}

/** What goes through the skin: a small circle with its cross. */
export function fittings(p: Sheet) {
  const q = p.o.small ? 2 : 4
  for (const f of p.o.fittings ?? []) {
    const [x, y] = p.at(f.side, f.along, f.down)
    p.circle('fitting', x, y, q)
    p.path(
      'fitting',
      [
        [x - q - 2, y],
        [x + q + 2, y],
      ],
      [
        [x, y - q - 2],
        [x, y + q + 2],
      ],
    )
    if (f.name)
      p.wants.push({
        side: f.side,
        text: f.name,
        along: f.along,
        down: f.down,
        ...(f.label ? { label: f.label } : {}),
      })
  }
}
