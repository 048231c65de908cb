import type { Tick } from './options'
import type { Line } from './plate'
import type { Sheet } from './sheet'
import { sides } from './sheet'
import { width } from './words'

/** Height of the graduation's figures, px. */
export const gradSize = 12

/** The neat line, graduated from the aft perpendicular in half metres: those bars are the scale. */
export function frame(p: Sheet) {
  const { edge: e, line: l, w, height } = p
  const out = p.o.small ? 2 : 3
  p.rect('outer', e - out, e - out, w - 2 * (e - out), height - 2 * (e - out))
  p.rect('inner paper', e, e, w - 2 * e, height - 2 * e)
  p.rect('inner', e + l, e + l, w - 2 * (e + l), height - 2 * (e + l))
  bars(p)
  if (p.o.small) return
  stationWords(p)
  metreWords(p)
  for (const side of sides) rowWords(p, side)
}

function bars(p: Sheet) {
  const { edge: e, line: l } = p
  const last = Math.ceil(2 * p.h.length) + 1
  for (let k = -Math.ceil(2 * p.h.spec.aft) - 2; k <= last; k++) {
    const a = Math.max(e + l, p.X(k / 2))
    const b = Math.min(p.w - e - l, p.X((k + 1) / 2))
    if (k % 2 !== 0 || b <= a) continue
    p.rect('bar', a, e + 2, b - a, l - 4)
    p.rect('bar', a, p.height - e - l + 2, b - a, l - 4)
  }
}

/** How many half metres there are forward of the aft perpendicular. */
export const halfMetres = (p: Sheet) => Math.floor(2 * (p.h.spec.lwl + p.h.spec.fore))

const stations = (p: Sheet): readonly Tick[] =>
  p.o.stations?.length ? p.o.stations : Array.from({ length: halfMetres(p) + 1 }, (_, k) => ({ at: k / 2 }))

/** The word of the i-th tick; the first says what is counted. */
function word(t: Tick, i: number, what: string): string {
  const w = t.word || String(i)
  return i === 0 && !w.startsWith(what) ? `${what} ${w}` : w
}

function stationWords(p: Sheet) {
  let free = -Infinity
  stations(p).forEach((t, i) => {
    const w = word(t, i, 'station')
    const x = p.X(t.at)
    const half = width(w, gradSize) / 2
    if (x - half < free) return
    p.text('grad', w, x, p.edge - 6, gradSize, 'middle')
    free = x + half + 2
  })
}

function metreWords(p: Sheet) {
  let every = 1
  while (every * p.s < 24) every *= 2
  for (let m = 0; 2 * m <= halfMetres(p); m += every)
    p.text('grad', m ? String(m) : '0 metres', p.X(m), p.height - p.edge + 14, gradSize, 'middle')
}

function rowWords(p: Sheet, side: (typeof sides)[number]) {
  const { edge: e, line: l, w } = p
  let last = -Infinity
  const tick = (x0: number, x1: number, y: number): Line => [
    [x0, y],
    [x1, y],
  ]
  p.o.rows?.forEach((t, i) => {
    const y = p.Y(side, t.at)
    p.path('tick', tick(e, e + l, y), tick(w - e - l, w - e, y))
    if (Math.abs(y - last) < gradSize - 1) return
    last = y
    const depth = Math.abs(t.at).toFixed(2)
    p.text('grad', word(t, i, 'row'), e - 6, y + 3.5, gradSize, 'end')
    p.text('grad', i === 0 ? `${depth} m` : depth, w - e + 5, y + 3.5, gradSize, 'start')
  })
}
