import type { Side } from './options'
import type { Anchor, Line } from './plate'
import type { Point } from './shape'
import type { Sheet } from './sheet'

/** Height of names laid over the hull, px. */
export const noteSize = 12
/** The share of the girth below which a name goes to the keel's side. */
export const keelward = 0.62

/** Paper already written on. */
export interface Box {
  x0: number
  y0: number
  x1: number
  y1: number
}

/** A thing with a name to be laid beside it. */
export interface Named {
  side: Side
  text: string
  along: number
  down: number
  label?: Point
}

const meets = (a: Box, b: Box) => a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1

function free(p: Sheet, b: Box): boolean {
  if (b.x0 < p.edge + p.line + 2 || b.x1 > p.w - p.edge - p.line - 2) return false
  return !p.taken.some((t) => meets(t, b))
}

/** Estimates how long a text is, px: enough to keep names apart. */
export function width(text: string, size: number): number {
  let sum = 0
  for (const c of text) {
    if (' .,iljtf'.includes(c)) sum += 0.3
    else if ('mwMW'.includes(c)) sum += 0.82
    else if ((c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z')) sum += 0.6
    else sum += 0.54
  }
  return sum * size
}

export function textBox(text: string, x: number, y: number, size: number, anchor: Anchor): Box {
  const w = width(text, size)
  const left = anchor === 'middle' ? x - w / 2 : anchor === 'end' ? x - w : x
  return { x0: left - 3, y0: y - 0.85 * size, x1: left + w + 3, y1: y + 0.3 * size }
}

export function bounds(l: Line): Box {
  const b = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity }
  for (const [x, y] of l) {
    b.x0 = Math.min(b.x0, x)
    b.y0 = Math.min(b.y0, y)
    b.x1 = Math.max(b.x1, x)
    b.y1 = Math.max(b.y1, y)
  }
  return b
}

/** Port and Starboard outside the sheer, towards the stern. */
export function sideNames(p: Sheet) {
  if (p.o.small || p.o.bare) return
  const size = 20
  const x = p.X(-p.h.spec.aft * 0.2)
  const write = (text: string, y: number) => {
    p.text('side', text, x, y, size, 'start')
    p.taken.push(textBox(text, x, y, size, 'start'))
  }
  write('Port', p.Y('port', -p.h.sheer(0)) - 10)
  write('Starboard', p.Y('starboard', -p.h.sheer(0)) + 20)
}

/** Lays every name wanted at the first place where it meets nothing else. */
export function names(p: Sheet) {
  if (p.o.small) return
  for (const { side, along, down } of p.o.readings ?? []) {
    const [x, y] = p.at(side, along, down)
    p.taken.push({ x0: x - p.r, y0: y - p.r, x1: x + p.r, y1: y + p.r })
  }
  for (const n of p.wants.sort((a, b) => a.along - b.along)) name(p, n)
}

function name(p: Sheet, n: Named) {
  const [x, y] = lay(p, n)
  p.taken.push(textBox(n.text, x, y, noteSize, 'middle'))
  const ty = p.Y(n.side, n.down)
  p.path('leader', [
    [x, y + (ty > y ? 4 : -11)],
    [p.X(n.along), ty],
  ])
  p.text('note', n.text, x, y, noteSize, 'middle')
}

/** How far aside a name may stand, in widths of its own; between the keels it may go further. */
const shifts = [0, -0.3, 0.3, -0.6, 0.6, -0.9, 0.9, -1.3, 1.3, -1.8, 1.8]
const farShifts = [...shifts, 2.4, -2.4, 3, -3, 3.6]

/** Where a name stands: the middle of its baseline, px. */
function lay(p: Sheet, n: Named): Point {
  if (n.label) return [p.X(n.label[0]), p.Y(n.side, n.label[1])]
  const ax = p.X(n.along)
  const w = width(n.text, noteSize)
  const g = p.h.girth(n.along)
  const keel = g > 0 && n.down > keelward * g ? layAtKeel(p, n, ax, w) : null
  if (keel) return keel
  const list = tiers(p, n)
  for (const crossing of [false, true]) // a leader over a figure only where nothing else is left
    for (const y of list)
      for (const k of shifts) {
        const x = ax + k * w
        if (free(p, textBox(n.text, x, y, noteSize, 'middle')) && (crossing || !crosses(p, n, x, y))) return [x, y]
      }
  const inner = p.edge + p.line + 4 + w / 2
  return [Math.min(p.w - inner, Math.max(inner, ax)), list[0] as number]
}

/** Whether a leader from x, y would run through a figure on the topsides. */
function crosses(p: Sheet, n: Named, x: number, y: number): boolean {
  const [tx, ty] = p.at(n.side, n.along, n.down)
  return (p.o.readings ?? []).some((r) => {
    if (r.side !== n.side || r.down >= 0) return false
    const t = (p.Y(r.side, r.down) - y) / (ty - y)
    return t > 0 && t < 1 && Math.abs(x + t * (tx - x) - p.X(r.along)) < p.r
  })
}

/** Looks for room between the keels: the name clear of the skin by a few px. */
function layAtKeel(p: Sheet, n: Named, ax: number, w: number): Point | null {
  const port = n.side === 'port'
  for (const off of [16, 30])
    for (const k of farShifts) {
      const x = ax + k * w
      const low = Math.max(0, ...[x - w / 2, x, x + w / 2].map((q) => p.h.girth(p.metres(q))))
      const y = p.Y(n.side, low) + (port ? off : 8 - off)
      const b = textBox(n.text, x, y, noteSize, 'middle')
      if (!free(p, b)) continue
      if ((port && b.y1 < p.mid) || (n.side === 'starboard' && b.y0 > p.mid)) return [x, y]
    }
  return null
}

/** Baselines on the topsides, best first; last, outside the sheer. Those level with the thing itself are left out. */
function tiers(p: Sheet, n: Named): number[] {
  const away = n.side === 'port' ? -1 : 1 // from the waterline towards the sheer
  const at = p.Y(n.side, n.down)
  const list = [0.65, 0.82, 0.5]
    .map((k) => p.Y(n.side, -k * p.h.spec.freeboard[1]) + 4)
    .filter((y) => (y - 4 - at) * away > noteSize)
  return [...list, p.Y(n.side, -p.h.sheer(n.along)) + away * 12 + 4]
}
