import { Unusable } from './refuse'
import { bounds, type Twentieth, type Value } from './value'

/** Fortieths of a scale unit: the median of an even number of readings, which are twentieths, stays whole. */
export type Fortieth = number

/** What is known of a figure: a point where both ends are equal, an infinity on a side left open. */
export interface Span {
  low: Fortieth
  high: Fortieth
}

/** 1.4826, by which a median absolute deviation estimates a standard deviation (Iglewicz and Hoaglin 1993). */
export const scaleOfMAD = 1.4826

export const isExact = (s: Span): boolean => s.low === s.high

export function spanOf(v: Value): Span {
  const [low, high] = bounds(v)
  return { low: Math.round(low * 40), high: Math.round(high * 40) }
}

export const minus = (a: Span, b: Span): Span => ({ low: a.low - b.high, high: a.high - b.low })

function magnitude({ low, high }: Span): Span {
  return { low: Math.max(low, -high, 0), high: Math.max(high, -low) }
}

/** Infinities among them, whose difference is no number. */
const ascending = (a: number, b: number) => (a < b ? -1 : a > b ? 1 : 0)

/** The middle value, or the two in the middle, of an order. */
function middles(values: readonly number[]): [number, number] {
  const sorted = [...values].sort(ascending)
  const [a, b] = [sorted[(sorted.length - 1) >> 1], sorted[sorted.length >> 1]]
  if (a === undefined || b === undefined) throw new Unusable('values', 'must be at least one')
  return [a, b]
}

/** Half-way between the middle two; an end that is open stays open. */
function half([a, b]: [number, number]): number {
  return Number.isFinite(a) ? (a + b) / 2 : a
}

/**
 * The median of one to five placements in whole tenths of a scale unit, as twentieths: exact, also for an even count.
 */
export function medianOfPlacements(tenths: readonly number[]): Twentieth {
  const [a, b] = middles(tenths)
  return a + b
}

/** The plain median of at least one number. */
export const medianOfNumbers = (x: readonly number[]): number => half(middles(x))

/**
 * The median of values that may carry limits, fortieths. The k-th value in order lies between the k-th of the lower
 * and the k-th of the upper ends, so a minority at the scale's end leaves the median exact.
 */
export function medianOf(values: readonly Value[]): Span {
  const spans = values.map(spanOf)
  return { low: half(middles(spans.map((s) => s.low))), high: half(middles(spans.map((s) => s.high))) }
}

/** The median absolute deviation of values from a centre, raw, in scale units. */
export function madOf(values: readonly Value[], centre: Span): { low: number; high: number } {
  const away = values.map((v) => magnitude(minus(spanOf(v), centre)))
  return { low: half(middles(away.map((s) => s.low))) / 40, high: half(middles(away.map((s) => s.high))) / 40 }
}

/**
 * Which two of n readings bound their median, counted from either end, and what such an interval covers: the largest
 * rank whose coverage 1 − 2·P(B < rank), B ~ Binomial(n, ½), reaches level (David and Nagaraja, Order Statistics,
 * 3rd ed., §7.1). Rank 0 where not even the extremes do: 0.95 takes six.
 */
export function medianRank(n: number, level: number): { rank: number; covers: number } {
  let found = { rank: 0, covers: 0 }
  let term = 0.5 ** n
  let tail = 0
  for (let j = 0; j < (n + 1) >> 1; j++) {
    tail += term
    const covers = 1 - 2 * tail
    if (covers < level - 1e-12) break
    found = { rank: j + 1, covers }
    term *= (n - j) / (j + 1)
  }
  return found
}
