import { gradSize } from './frame'
import type { Sheet } from './sheet'
import { textBox, width } from './words'

/** The open water ahead of the keel holds the title and the scale, as a chart has it. */
export function cartouche(p: Sheet) {
  const { title, under: below = '' } = p.o
  if (p.o.small || !title) return
  const large = Math.min(34, p.w / 29)
  const [left, right] = openWater(p, 0.9 * large + 34)
  const room = right - left
  if (room < 60) return
  const x = (left + right) / 2
  const size = shrunk(title, large, room)
  const under = shrunk(below, Math.min(17, p.w / 54), room)
  let y = p.mid - 14
  p.text('title', title, x, y, size, 'middle')
  p.taken.push(textBox(title, x, y, size, 'middle'))
  if (below) {
    y += 7 + under
    p.text('under', below, x, y, under, 'middle')
    p.taken.push(textBox(below, x, y, under, 'middle'))
  }
  scale(p, x, y + 20, room)
}

/** Shrinks a text until it is no longer than room, but never below 9 px. */
function shrunk(text: string, size: number, room: number): number {
  const w = width(text, size)
  return w > room ? Math.max(9, (size * room) / w) : size
}

/** The part of the middle with `half` px free above and below, forward of midship and of all that hangs. */
function openWater(p: Sheet, half: number): [left: number, right: number] {
  const right = p.w - p.edge - p.line - 12
  const from = Math.max(p.h.spec.lwl / 2, ...(p.h.spec.hung ?? []).flatMap(({ at }) => [at[1], at[3]]))
  for (let i = p.h.xs.length - 1; i >= 0; i--) {
    const x = p.h.xs[i] as number
    if (x <= from) break
    if ((p.h.half - p.h.girth(x)) * p.s < half) return [p.X(x) + 4, right]
  }
  return [p.X(from) + 8, right]
}

/** A bar of 5, 2, 1 or half a metre around x, its line at y. */
function scale(p: Sheet, x: number, y: number, room: number) {
  let m = 0.5
  for (const k of [1, 2, 5]) if (k * p.s < Math.min(170, 0.8 * room)) m = k
  const [x0, x1] = [x - (m * p.s) / 2, x + (m * p.s) / 2]
  p.rect('scale', x0, y - 2, (x1 - x0) / 2, 4)
  p.path(
    'rule',
    [
      [x0, y],
      [x1, y],
    ],
    ...[x0, x, x1].map((at): [[number, number], [number, number]] => [
      [at, y - 4],
      [at, y + 4],
    ]),
  )
  ;[x0, x, x1].forEach((at, i) => {
    const metres = String(Math.round(m * i * 50) / 100)
    p.text('grad', i === 2 ? `${metres} m` : metres, at, y + 17, gradSize, 'middle')
  })
  p.taken.push({ x0: x0 - 8, y0: y - 6, x1: x1 + 12, y1: y + 21 })
}
