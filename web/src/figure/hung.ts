import { between, type Line } from './plate'
import { gap, type Point } from './shape'
import type { Sheet, sides } from './sheet'
import type { Hung } from './spec'
import { bounds, noteSize, textBox, width } from './words'

type Side = (typeof sides)[number]

/** What hangs below one side: fins, skegs and rudders, long ones cut short with the usual break line. */
export function hungs(p: Sheet, side: Side) {
  for (const part of p.h.spec.hung ?? []) hung(p, side, part)
}

function hung(p: Sheet, side: Side, part: Hung) {
  const { h } = p
  const root = h.root(h.rootAt(part))
  const [a, b, c, d] = part.at
  const foot = Math.min(h.half - gap, root + part.span)
  const k = Math.max(0, (foot - root) / part.span)
  const [aft, fore] = [a + (c - a) * k, b + (d - b) * k]
  const broken = foot < root + part.span - 0.01
  const shape = along(p, side, a, b)
  for (const [x, down] of end(aft, fore, foot, broken)) shape.push(p.at(side, x, down))
  p.add({ kind: 'path', class: 'hung', lines: [shape], closed: true, fill: part.blade ? 'blade' : 'metal' })
  p.taken.push(bounds(shape))
  if (side === 'port' && part.name && !p.o.small) hungName(p, part, aft, fore, foot, broken)
}

/** The lower edge, from fore to aft, in along and down. */
function end(aft: number, fore: number, foot: number, broken: boolean): Point[] {
  if (!broken)
    return [
      [fore, foot],
      [aft, foot],
    ]
  const m = (aft + fore) / 2
  const z = Math.min(0.12, (fore - aft) / 3)
  return [
    [fore, foot],
    [m + z, foot],
    [m + z * 0.4, foot - 0.09],
    [m - z * 0.4, foot + 0.07],
    [m - z, foot],
    [aft, foot],
  ]
}

/** The skin's edge from a to b, which may lie behind the hull. */
function along(p: Sheet, side: Side, a: number, b: number): Line {
  const n = Math.max(1, Math.ceil((b - a) / 0.1))
  return Array.from({ length: n + 1 }, (_, i) => {
    const x = a + ((b - a) * i) / n
    return p.at(side, x, p.h.girth(x))
  })
}

function hungName(p: Sheet, part: Hung, aft: number, fore: number, foot: number, broken: boolean) {
  const name = part.name ?? ''
  let x = p.X(aft) - 8
  let anchor: 'end' | 'start' = 'end'
  if (part.right || x - width(name, noteSize) < p.edge + p.line + 4) {
    x = p.X(fore) + 8
    anchor = 'start'
  }
  const y = p.Y('port', foot) + 4 + (broken ? 6 : 0)
  p.text('note', name, x, y, noteSize, anchor)
  p.taken.push(textBox(name, x, y, noteSize, anchor))
}

/** The footprint of a bilge keel: a lens on the skin, not hatched, since hatching there says that nobody knows. */
export function bilge(p: Sheet, side: Side) {
  const b = p.h.spec.bilge
  if (!b) return
  const n = 24
  const mid = b.out * p.h.girth((b.from + b.to) / 2)
  const out: Line = []
  const inner: Line = []
  for (let i = 0; i <= n; i++) {
    const t = i / n
    const x = b.from + (b.to - b.from) * t
    const half = (b.thick / 2) * Math.sin(Math.PI * t)
    out.push(p.at(side, x, mid - half))
    inner.push(p.at(side, x, mid + half))
  }
  p.area('footprint', between(out, inner))
  if (side === 'port' && b.name && !p.o.small)
    p.wants.push({ side, text: b.name, along: b.from + (b.to - b.from) / 4, down: mid })
}
