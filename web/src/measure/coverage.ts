import { between, share, Unusable } from './refuse'

/**
 * To meet a flaw is to set the instrument down on it, or to bare part of it. That an instrument would then show it is
 * another question, which nothing here answers.
 */

/** A grid of readings: spacings, and the width of what is set down, taken as round (0 for a hammer), all mm. */
export interface Grid {
  along: number
  down: number
  pad: number
}

function check(g: Grid) {
  between('grid.along', g.along, 0.01, 1e6, 'mm')
  between('grid.down', g.down, 0.01, 1e6, 'mm')
  if (g.pad !== 0) between('grid.pad', g.pad, 0.01, 1e6, 'mm')
}

/**
 * The chance, 0 to 1, that the grid meets a round flaw of this diameter, mm, that lies anywhere with equal chance:
 * the part of a disc of radius (flaw + pad)/2 inside the cell of one grid point, over the cell. Plane geometry, no
 * source needed; the edges of the hull are left out.
 */
export function chanceToMeet(g: Grid, flaw: number): number {
  check(g)
  between('flaw', flaw, 0.01, 1e6, 'mm')
  return chance(g, flaw)
}

function chance({ along, down, pad }: Grid, flaw: number): number {
  const r = (flaw + pad) / 2
  if (r >= Math.hypot(along, down) / 2) return 1
  const disc = Math.PI * r * r - 2 * segment(r, along / 2) - 2 * segment(r, down / 2)
  return Math.min(1, disc / (along * down))
}

/** The part of a disc of radius r beyond a chord at distance h from its centre. */
function segment(r: number, h: number): number {
  return h >= r ? 0 : r * r * Math.acos(h / r) - h * Math.sqrt(r * r - h * h)
}

/** The smallest round flaw, mm, that the grid meets with this chance; 0 where the pad alone is enough. */
export function smallestMet(g: Grid, wanted = 0.9): number {
  check(g)
  share('wanted', wanted)
  let [low, high] = [0, Math.hypot(g.along, g.down)]
  for (let i = 0; i < 60; i++) {
    const d = (low + high) / 2
    if (chance(g, d) < wanted) low = d
    else high = d
  }
  return high < 1e-9 ? 0 : high
}

/** The diameter, mm, from which the grid cannot miss a round flaw. */
export function certainFrom(g: Grid): number {
  check(g)
  return Math.max(0, Math.hypot(g.along, g.down) - g.pad)
}

/**
 * The density, per m², that a count of zero in so many m² leaves open: the one-sided exact Poisson bound,
 * −ln(1 − level)/area. It holds for blisters too small to show through the coating, spread evenly; clustering makes
 * it worse. The look over the whole underbody stands beside it in the same sentence.
 */
export function noneSeenBound(area: number, level = 0.95): number {
  between('area', area, 1e-6, 1e6, 'm²')
  share('level', level)
  return -Math.log1p(-level) / area
}

/**
 * Two counts on two areas: the two-sided exact chance of so unlike counts at equal density, the smaller tail doubled.
 * Given their sum the second is binomial (Przyborowski and Wilenski 1940, from memory). Clustered blisters differ by
 * more than this allows.
 */
export function countsAlike(first: number, area1: number, second: number, area2: number): number {
  for (const [name, n] of [
    ['first', first],
    ['second', second],
  ] as const)
    if (!Number.isInteger(n) || n < 0 || n > 1e6) throw new Unusable(name, 'must be a whole number, 0 to 1 000 000')
  between('area1', area1, 1e-6, 1e6, 'm²')
  between('area2', area2, 1e-6, 1e6, 'm²')
  const n = first + second
  if (n === 0) throw new Unusable('first and second', 'must not both be 0: there is nothing to compare')
  const p = area2 / (area1 + area2)
  let [upTo, from] = [0, 0]
  let log = n * Math.log1p(-p) // of the chance of k = 0
  for (let k = 0; k <= n; k++) {
    const term = Math.exp(log)
    if (k <= second) upTo += term
    if (k >= second) from += term
    log += Math.log((n - k) / (k + 1)) + Math.log(p) - Math.log1p(-p)
  }
  return Math.min(1, 2 * Math.min(upTo, from))
}
