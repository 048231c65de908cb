import { halfMetres } from './frame'
import { between, type Line } from './plate'
import { crossing, heelStep } from './shape'
import type { Sheet, sides } from './sheet'

type Side = (typeof sides)[number]

/** Lines along the skin, m from the waterline and from the sheer; the water-lining, m from the keel's edge. */
const bootTop = 0.07
const rail = 0.11
const lining = [0.02, 0.045, 0.075, 0.11]

const nought = () => 0

/** One side: topsides as land, underbody as water, deeper towards the keel. */
export function skin(p: Sheet, side: Side) {
  const { h } = p
  const [from, to] = [-h.spec.aft, h.spec.lwl + h.spec.fore]
  const girth = (x: number) => h.girth(x)
  p.area(
    'topsides',
    between(
      p.curve(side, from, to, (x) => -h.sheer(x)),
      p.curve(side, from, to, (x) => Math.min(0, h.girth(x))),
    ),
  )
  p.area('underbody', between(p.wet(side, nought), p.wet(side, girth)))
  p.area(
    'deep',
    between(
      p.wet(side, (x) => 0.55 * h.girth(x)),
      p.wet(side, girth),
    ),
  )
  if (!p.o.small) fairing(p, side)
  if (h.spec.chine)
    p.path(
      'corner',
      p.curve(side, 0, h.spec.lwl, (x) => h.corner(x)),
    )
  stationLines(p, side)
  if (!p.o.small) liningLines(p, side)
  p.path('waterline', p.wet(side, nought))
  offset(p, side, 'boottop', () => -bootTop)
  offset(p, side, 'boottop', (x) => rail - h.sheer(x))
  outline(p, side)
}

export function outline(p: Sheet, side: Side) {
  const { h } = p
  const [from, to] = [-h.spec.aft, h.spec.lwl + h.spec.fore]
  p.area(
    'outline',
    between(
      p.curve(side, from, to, (x) => -h.sheer(x)),
      p.curve(side, from, to, (x) => h.girth(x)),
    ),
  )
}

export const waterline = (p: Sheet, side: Side) => p.path('waterline', p.wet(side, nought))

function fairing(p: Sheet, side: Side) {
  const { h } = p
  for (let k = 1; k < 10; k++) {
    const f = (x: number) => (k / 10) * h.girth(x)
    const keel = h.spec.keel
    if (!keel) p.path('fair', p.wet(side, f))
    // A sternpost stands upright: the lines stop at it and begin anew.
    else p.path('fair', p.curve(side, h.wetFrom, keel.heel - heelStep, f), p.curve(side, keel.heel, h.wetTo, f))
  }
}

function stationLines(p: Sheet, side: Side) {
  const whole: Line[] = []
  const half: Line[] = []
  for (let k = 0; k <= halfMetres(p); k++) {
    const x = k / 2
    const l: Line = [p.at(side, x, -p.h.sheer(x)), p.at(side, x, p.h.girth(x))]
    ;(k % 2 === 0 ? whole : half).push(l)
  }
  p.path('station whole', ...whole)
  p.path('station', ...half)
}

function liningLines(p: Sheet, side: Side) {
  const least = 0.25 // m of girth below which there is no room for it
  const { h } = p
  const room = (x: number) => h.girth(x) - least
  const from = crossing(room, h.spec.lwl / 2, h.wetFrom)
  const to = crossing(room, h.spec.lwl / 2, h.wetTo)
  lining.forEach((d, i) => {
    const l = p.curve(side, from, to, (x) => h.girth(x) - d)
    if (l.length > 0) p.path(`lining l${i}`, l)
  })
}

/** A line down the topsides as far as the skin carries it at both ends. */
function offset(p: Sheet, side: Side, cls: string, f: (x: number) => number) {
  const { h } = p
  const inside = (x: number) => h.girth(x) - f(x)
  const from = crossing(inside, h.spec.lwl / 2, -h.spec.aft)
  const to = crossing(inside, h.spec.lwl / 2, h.spec.lwl + h.spec.fore)
  const l = p.curve(side, from, to, f)
  if (l.length > 0) p.path(cls, l)
}
