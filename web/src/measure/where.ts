import { Unusable } from './refuse'

/**
 * A map between places, with its doubt: what the client needs of domain/measure/where, under the same names.
 * Distances may be in any unit, the same throughout.
 */
export interface Point {
  x: number
  y: number
}

/** Half the mean squared difference of one class of distance. */
export interface Lag {
  distance: number
  gamma: number
  pairs: number
}

/** A spherical model (Cressie, Statistics for Spatial Data, 1993, §2.3.1); the sill without the nugget. */
export interface Variogram {
  nugget: number
  sill: number
  range: number
}

/**
 * The share of what one would be off by, knowing of no place, from which a map is hatched as not known: the
 * readings then take less than a fifth off the variance. Own default, no source.
 */
export const hatchFrom = 0.9

const lagCount = 15

/** Matheron's estimator in fifteen classes up to a third of the area's diagonal; classes without pairs left out. */
export function sampleVariogram(points: readonly Point[], y: readonly number[]): Lag[] {
  const cutoff = diagonal(points) / 3
  if (!(cutoff > 0)) throw new Unusable('points', 'must not all be the same')
  const width = cutoff / lagCount
  const lags = Array.from({ length: lagCount }, () => ({ distance: 0, gamma: 0, pairs: 0 }))
  points.forEach((p, i) => {
    for (let j = 0; j < i; j++) {
      const h = apart(p, points[j] as Point)
      if (h > cutoff || h === 0) continue
      // classes are open below, closed above
      const lag = lags[Math.min(Math.max(Math.ceil(h / width) - 1, 0), lagCount - 1)] as Lag
      lag.distance += h
      lag.gamma += ((y[i] as number) - (y[j] as number)) ** 2 / 2
      lag.pairs++
    }
  })
  return lags
    .filter(({ pairs }) => pairs > 0)
    .map(({ distance, gamma, pairs }) => ({ distance: distance / pairs, gamma: gamma / pairs, pairs }))
}

const apart = (p: Point, q: Point) => Math.hypot(p.x - q.x, p.y - q.y)

function diagonal(points: readonly Point[]): number {
  const span = (of: (p: Point) => number) => Math.max(...points.map(of)) - Math.min(...points.map(of))
  return points.length === 0
    ? 0
    : Math.hypot(
        span(({ x }) => x),
        span(({ y }) => y),
      )
}

/**
 * The model that fits best with weights pairs/distance² (Cressie's recommendation simplified): for each range the
 * nugget and sill that fit best without being negative, then the best range.
 */
export function fitVariogram(lags: readonly Lag[]): Variogram {
  if (lags.length < 3)
    throw new Unusable('lags', `must be at least three distances that hold pairs, not ${lags.length}`)
  const distances = lags.map(({ distance }) => distance)
  const [low, high] = [Math.log(Math.min(...distances) / 3), Math.log(Math.max(...distances) * 5)]
  const at = (u: number) => atRange(lags, Math.exp(u))
  const steps = 80
  const step = (high - low) / steps
  let best = 0
  for (let i = 1; i <= steps; i++) if (at(low + i * step).off < at(low + best * step).off) best = i
  const found = at(narrow(low + Math.max(best - 1, 0) * step, low + Math.min(best + 1, steps) * step, (u) => at(u).off))
  const coarse = at(low + best * step)
  return found.off > coarse.off ? coarse.model : found.model
}

/** Nugget and sill by weighted least squares at one range, and the weighted squares left over. */
function atRange(lags: readonly Lag[], range: number): { model: Variogram; off: number } {
  let [sw, sx, sy, sxx, sxy] = [0, 0, 0, 0, 0]
  for (const { distance, gamma, pairs } of lags) {
    const w = pairs / distance ** 2
    const x = 1 - correlation(distance / range)
    sw += w
    sx += w * x
    sy += w * gamma
    sxx += w * x * x
    sxy += w * x * gamma
  }
  const d = sw * sxx - sx * sx
  let [sill, nugget] = [0, sy / sw]
  if (d > 1e-12 * sw * sxx) {
    const slope = (sw * sxy - sx * sy) / d
    const rest = (sy - slope * sx) / sw
    if (slope >= 0) [sill, nugget] = rest < 0 ? [sxy / sxx, 0] : [slope, rest]
  }
  let off = 0
  for (const { distance, gamma, pairs } of lags)
    off += (pairs / distance ** 2) * (gamma - nugget - sill * (1 - correlation(distance / range))) ** 2
  return { model: { nugget, sill, range }, off }
}

/** Likeness at a distance, as a share of the range. */
const correlation = (u: number) => (u >= 1 ? 0 : 1 - u * (1.5 - 0.5 * u * u))

/** A minimum by the golden section. */
function narrow(low: number, high: number, f: (u: number) => number): number {
  const ratio = 0.6180339887498949
  let [a, b] = [low, high]
  let [c, d] = [b - ratio * (b - a), a + ratio * (b - a)]
  let [fc, fd] = [f(c), f(d)]
  for (let i = 0; i < 45; i++) {
    if (fc < fd) {
      ;[b, d, fd] = [d, c, fc]
      c = b - ratio * (b - a)
      fc = f(c)
    } else {
      ;[a, c, fc] = [c, d, fd]
      d = a + ratio * (b - a)
      fd = f(d)
    }
  }
  return (a + b) / 2
}

/**
 * Ordinary kriging over all points, the nugget taken as error of reading and smoothed out. Cressie 1993, §3.2;
 * Chilès and Delfiner, Geostatistics, 1999, §3.4 in covariance form. Coincident points are averaged.
 */
export class Kriged {
  readonly mean: number
  /** The standard deviation of what is mapped where no place is near. */
  readonly ignorance: number
  private readonly points: Point[]
  private readonly factor: Float64Array
  private readonly ones: Float64Array
  private readonly dual: Float64Array
  private readonly sum: number

  constructor(
    points: readonly Point[],
    y: readonly number[],
    readonly model: Variogram,
  ) {
    const merged = merge(points, y)
    if (merged.points.length < 3) throw new Unusable('points', 'must be at least 3 different ones')
    this.points = merged.points
    this.ignorance = Math.sqrt(model.sill)
    const n = this.points.length
    this.factor = this.factorise()
    this.ones = new Float64Array(n).fill(1)
    const u = Float64Array.from(merged.y)
    forward(this.factor, n, this.ones)
    forward(this.factor, n, u)
    this.sum = dot(this.ones, this.ones, n)
    this.mean = dot(this.ones, u, n) / this.sum
    for (let i = 0; i < n; i++) (u[i] as number) -= this.mean * (this.ones[i] as number)
    backward(this.factor, n, u)
    this.dual = u
  }

  private factorise(): Float64Array {
    const n = this.points.length
    const total = this.model.nugget + this.model.sill
    for (const jitter of [0, 1e-12, 1e-10]) {
      const a = new Float64Array(n * n)
      this.points.forEach((p, i) => {
        for (let j = 0; j < i; j++) a[i * n + j] = this.covariance(p, this.points[j] as Point)
        a[i * n + i] = total * (1 + jitter)
      })
      if (cholesky(a, n)) return a
    }
    throw new Unusable('points', 'lie so close that the model cannot tell them apart')
  }

  private covariance(p: Point, q: Point): number {
    return this.model.sill * correlation(apart(p, q) / this.model.range)
  }

  /** The surface at a spot, and its standard error as a share of knowing nothing. */
  at(p: Point): { value: number; doubt: number } {
    if (this.model.sill === 0) return { value: this.mean, doubt: 1 }
    const n = this.points.length
    const u = Float64Array.from(this.points, (q) => this.covariance(p, q))
    const value = this.mean + dot(u, this.dual, n)
    forward(this.factor, n, u)
    const short = 1 - dot(u, this.ones, n)
    const variance = this.model.sill - dot(u, u, n) + (short * short) / this.sum
    return { value, doubt: Math.sqrt(Math.max(0, variance)) / this.ignorance }
  }
}

function merge(points: readonly Point[], y: readonly number[]) {
  const at = new Map<string, { p: Point; sum: number; n: number }>()
  points.forEach((p, i) => {
    const key = `${p.x} ${p.y}`
    const spot = at.get(key) ?? { p, sum: 0, n: 0 }
    spot.sum += y[i] as number
    spot.n++
    at.set(key, spot)
  })
  const spots = [...at.values()]
  return { points: spots.map(({ p }) => p), y: spots.map(({ sum, n }) => sum / n) }
}

/** Factors a lower triangle in place; false where it is not positive definite. Golub and Van Loan, §4.2. */
function cholesky(a: Float64Array, n: number): boolean {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let v = a[i * n + j] as number
      for (let k = 0; k < j; k++) v -= (a[i * n + k] as number) * (a[j * n + k] as number)
      if (j < i) a[i * n + j] = v / (a[j * n + j] as number)
      else if (v > 1e-14 * (a[i * n + i] as number)) a[i * n + i] = Math.sqrt(v)
      else return false
    }
  }
  return true
}

/** Solves L·x = b in place. */
function forward(l: Float64Array, n: number, b: Float64Array) {
  for (let i = 0; i < n; i++) {
    let v = b[i] as number
    for (let k = 0; k < i; k++) v -= (l[i * n + k] as number) * (b[k] as number)
    b[i] = v / (l[i * n + i] as number)
  }
}

/** Solves Lᵀ·x = b in place. */
function backward(l: Float64Array, n: number, b: Float64Array) {
  for (let i = n - 1; i >= 0; i--) {
    const v = (b[i] as number) / (l[i * n + i] as number)
    b[i] = v
    for (let k = 0; k < i; k++) (b[k] as number) -= (l[i * n + k] as number) * v
  }
}

function dot(a: Float64Array, b: Float64Array, n: number): number {
  let sum = 0
  for (let i = 0; i < n; i++) sum += (a[i] as number) * (b[i] as number)
  return sum
}
