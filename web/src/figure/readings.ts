import { laid } from './behind'
import type { Pin, Reading } from './options'
import type { Ink, Line } from './plate'
import type { Point } from './shape'
import type { Sheet } from './sheet'

/** One mark a place. */
export function readings(p: Sheet) {
  for (const q of p.o.readings ?? []) {
    p.place = q.id
    reading(p, q)
  }
  p.place = ''
}

function reading(p: Sheet, q: Reading) {
  const [x, y] = p.at(q.side, q.along, q.down)
  if (p.o.mode === 'map') p.circle('dot', x, y, 1.6)
  else if (p.o.mode === 'change') {
    if (!q.dry) change(p, x, y, q)
  } else if (q.gap) gap(p, x, y, q.gap)
  else {
    value(p, x, y, q)
    const r = p.r
    if (q.follow)
      p.area('follow', [
        [x + 0.7 * r, y - 0.7 * r],
        [x + 1.6 * r, y - 0.8 * r],
        [x + 1.15 * r, y],
      ])
  }
}

/** Why a place has no figure: hatched, a cross, an empty dashed ring. */
function gap(p: Sheet, x: number, y: number, kind: NonNullable<Reading['gap']>) {
  const { r, s } = p
  if (kind === 'void') {
    const d = 0.6 * r
    p.path(
      'void',
      [
        [x - d, y - d],
        [x + d, y + d],
      ],
      [
        [x - d, y + d],
        [x + d, y - d],
      ],
    )
  } else if (kind === 'due') p.circle('due', x, y, r - 1)
  else {
    const [w, h] = [Math.min(0.22 * s, 1.8 * r), Math.min(0.13 * s, 1.1 * r)]
    p.add({ kind: 'rect', class: 'unread', x: x - w, y: y - h, w: 2 * w, h: 2 * h, fill: 'unread' })
  }
}

function value(p: Sheet, x: number, y: number, q: Reading) {
  if (!p.figures) {
    smallStep(p, x, y, p.r, q.step)
    return
  }
  step(p, x, y, p.r, q.step)
  figure(p, q.step > 2 ? 'fig rev' : 'fig', q.value ?? '', x, y + 0.4 * p.r, p.r)
}

/** The step of a reading, without its figure: short rule, ring, collar, disc, disc in a ring. */
export function step(p: Ink, x: number, y: number, r: number, n: number) {
  if (n === 0) p.rect('v0', x - 0.45 * r, y + 0.62 * r, 0.9 * r, 1.6)
  if (n === 1) {
    p.circle('ring', x, y, r - 1.2)
    p.circle('collar v1', x, y, r - 2.5)
  }
  if (n === 2) {
    p.circle('ring', x, y, r - 0.4)
    p.circle('collar v2', x, y, r - 2.3)
  }
  if (n === 3) p.circle('disc v3', x, y, r - 0.4)
  if (n === 4) {
    p.circle('halo', x, y, r + 0.8)
    p.circle('disc v4', x, y, r - 1.2)
  }
}

/** The same where there is no room for figures. */
export function smallStep(p: Ink, x: number, y: number, r: number, n: number) {
  if (n === 1) p.circle('ring', x, y, r - 1.3)
  else if (n === 2) p.circle('disc v2', x, y, r - 0.7)
  else if (n === 3) p.circle('disc v3', x, y, r - 0.4)
  else if (n === 4) {
    p.circle('halo', x, y, r + 0.8)
    p.circle('disc v4', x, y, r - 1.2)
  } else p.circle('dot', x, y, 1.3)
}

/** A value; more than two characters are set smaller to stay within the mark. */
function figure(p: Ink, cls: string, text: string, x: number, y: number, r: number) {
  if (!text) return
  const n = [...text].length
  const size = Math.min(19, Math.max(9.5, 1.3 * r)) * (n > 2 ? Math.max(0.55, 2.5 / n) : 1)
  p.text(cls, text, x, y, size, 'middle')
}

/** What may be said of a change: a house pointing up or down, the amount ruled off twice, a dotted circle. */
function change(p: Sheet, x: number, y: number, q: Reading) {
  const r = p.o.small ? p.r * 0.85 : p.r
  const write = (cls: string, text = '') => {
    if (p.figures) figure(p, cls, text, x, y + 0.42 * r, p.r)
  }
  const told = q.gap !== 'unread' && q.gap !== 'void'
  if (told && (q.said === 'up' || q.said === 'down')) {
    p.area('changed', house(x, y, r, q.said === 'up'))
    write('fig inked', q.by)
  } else if (told && q.said === 'none') {
    write('fig quiet', q.by)
    const [w, dy] = p.figures ? [5, 0.68 * r] : [2.6, -1.4]
    const rule = (at: number): Line => [
      [x - w, at],
      [x + w, at],
    ]
    p.path('same', rule(y + dy), rule(y + dy + 2.6))
  } else {
    p.circle('untold', x, y, r - 1)
    write('fig', q.by || '?') // an amount here is a difference without a verdict
  }
}

function house(x: number, y: number, r: number, up: boolean): Line {
  const w = 1.15 * r
  const k = up ? 1 : -1
  return [
    [x - w, y + k * 0.75 * r],
    [x - w, y - k * 0.35 * r],
    [x, y - k * 1.25 * r],
    [x + w, y - k * 0.35 * r],
    [x + w, y + k * 0.75 * r],
  ]
}

/** The chosen place, fixed by two lines to the graduated frame; its mirror twin dashed. */
export function bearings(p: Sheet) {
  const q = p.o.chosen ? p.o.readings?.find(({ id }) => id === p.o.chosen) : undefined
  if (!q) return
  const [x, y] = p.at(q.side, q.along, q.down)
  const e = p.edge + p.line
  const r = p.r + (p.o.small ? 3 : 4)
  p.path(
    'bearing',
    [
      [e, y],
      [x - r, y],
    ],
    [
      [x + r, y],
      [p.w - e, y],
    ],
    [
      [x, e],
      [x, y - r],
    ],
  )
  p.circle('choice', x, y, r)
  if (q.side !== 'centre') p.circle('choice mirror', x, p.height - y, r)
}

/** Findings, windows and photographs. */
export function pins(p: Sheet) {
  for (const { id, side, outline = [] } of p.o.pins ?? []) {
    if (outline.length < 3) continue
    p.place = id
    p.area('pin outline', laid(p, side, [...outline, outline[0] as Point], 0))
  }
  for (const q of p.o.pins ?? []) {
    p.place = q.id
    pin(p, q)
  }
  p.place = ''
}

/**
 * How many marks a pin lies under, so that those of one spot are read one by one: findings keep the spot in their
 * order, photos follow. Windows are to scale and stay.
 */
function above(p: Sheet, q: Pin, d: number): number {
  const all = p.o.pins ?? []
  if (q.kind === 'window') return 0
  const k = all.indexOf(q)
  const [x, y] = p.at(q.side, q.along, q.down)
  return all.filter((other, j) => {
    const first = other.kind === q.kind ? j < k : other.kind === 'finding' && q.kind === 'photo'
    if (!first) return false
    const [a, b] = p.at(other.side, other.along, other.down)
    return Math.abs(a - x) < 2 * d && Math.abs(b - y) < 2 * d
  }).length
}

function pin(p: Sheet, q: Pin) {
  const d = p.o.small ? 3 : 6
  const [x, spot] = p.at(q.side, q.along, q.down)
  const y = spot + 2.2 * d * above(p, q, d)
  if (q.kind === 'window') {
    const w = Math.max(3, 0.1 * p.s)
    p.rect('pin window', x - w / 2, y - w / 2, w, w)
  } else if (q.kind === 'photo')
    p.area('pin photo', [
      [x, y - d],
      [x + d, y + d * 0.8],
      [x - d, y + d * 0.8],
    ])
  else
    p.area('pin', [
      [x, y - d],
      [x + d, y],
      [x, y + d],
      [x - d, y],
    ])
  if (q.word && !p.o.small) p.text('note word', q.word, x + d + 3, y + 4, Math.max(11, p.r), 'start')
}
