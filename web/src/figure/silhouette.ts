import { between, Ink, type Line, type Plate } from './plate'
import { crossing, type Point, type Shape } from './shape'

/** A hull seen from the side, by which a boat is known in a list. As high as half its width; at least 40 px wide. */
export function silhouette(h: Shape, width: number): Plate {
  const k = new Ink()
  const w = Math.max(40, width)
  const height = w / 2
  const [from, to] = [-h.spec.aft, h.spec.lwl + h.spec.fore]
  const under = bottom(h)
  const s = Math.min((w - 2) / h.length, (height - 2) / (h.top + under))
  const x0 = (w - s * h.length) / 2
  const y0 = (height - s * (h.top + under)) / 2 + s * h.top // the waterline
  const at = (x: number, z: number): Point => [x0 + (x + h.spec.aft) * s, y0 + z * s]
  const curve = (f: (x: number) => number): Line => [
    at(from, f(from)),
    ...h.xs.filter((x, i) => i % 2 === 1 && x > from && x < to).map((x) => at(x, f(x))),
    at(to, f(to)),
  ]
  const keel = (x: number) => h.depth(x) + h.keel(x)
  const sheer = (x: number) => -h.sheer(x)
  hanging(h, k, at)
  k.area(
    'topsides',
    between(
      curve(sheer),
      curve((x) => Math.min(0, keel(x))),
    ),
  )
  k.area(
    'deep',
    between(
      curve(() => 0),
      curve((x) => Math.max(0, keel(x))),
    ),
  )
  k.area('outline', between(curve(sheer), curve(keel)))
  const depth = (x: number) => h.depth(x)
  const [a, b] = [crossing(depth, h.spec.lwl / 2, from), crossing(depth, h.spec.lwl / 2, to)]
  k.path('waterline', [at(a, 0), at(b, 0)])
  return { width: w, height, small: true, mode: 'today', label: '', marks: k.marks }
}

/** The draught of everything, m. */
function bottom(h: Shape): number {
  const { hung = [], bilge: b } = h.spec
  return Math.max(
    0,
    ...h.xs.map((x) => h.depth(x) + h.keel(x)),
    ...hung.map((p) => h.depth(h.rootAt(p)) + p.span),
    ...(b ? [h.depth((b.from + b.to) / 2) + b.span] : []),
  )
}

function hanging(h: Shape, k: Ink, at: (x: number, z: number) => Point) {
  const { hung = [], bilge: b, aft } = h.spec
  for (const p of hung) {
    const root = h.depth(h.rootAt(p))
    const foot = root + p.span
    k.area('hung plain', [
      at(p.at[0], h.depth(Math.max(-aft, p.at[0]))),
      at(p.at[2], foot),
      at(p.at[3], foot),
      at(p.at[1], root),
    ])
  }
  if (b) {
    const foot = h.depth((b.from + b.to) / 2) + b.span
    const inset = (b.to - b.from) / 8
    k.area('hung plain', [
      at(b.from, h.depth(b.from)),
      at(b.from + inset, foot),
      at(b.to - inset, foot),
      at(b.to, h.depth(b.to)),
    ])
  }
}
