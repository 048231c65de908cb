import { type Curve, type Hung, length, type Spec } from './spec'

/** Along and down in metres on the skin, or x and y in pixels on a plate. */
export type Point = [number, number]

const samples = 96
const overhangSamples = 12
/** What keels facing each other keep clear of the middle of the sheet, m. */
export const gap = 0.08
/** How far inside the waterline the slope of an overhang is taken, as a share of the waterline. */
const slopeStep = 0.01
/** The after edge of a long keel: at once this share of its depth, all of it `heelRise` further forward. */
const heelShare = 0.55
const heelRise = 0.11
export const heelStep = 1e-4

/** A spec with its curves worked out. Methods take metres forward of the aft perpendicular. */
export class Shape {
  /** Where curves are sampled: even steps and every point where something begins. */
  readonly xs: number[]
  /** From the waterline to the middle of the sheet, m. */
  readonly half: number
  /** Highest sheer, m. */
  readonly top: number
  /** Where the skin dips below the waterline. */
  readonly wetFrom: number
  readonly wetTo: number
  readonly length: number
  private readonly quarter: Point[]

  constructor(readonly spec: Spec) {
    this.quarter = spec.chine ? [] : quarter(spec.section ?? 2)
    this.length = length(spec)
    this.wetFrom = crossing((x) => this.girth(x), 0, -spec.aft)
    this.wetTo = crossing((x) => this.girth(x), spec.lwl, spec.lwl + spec.fore)
    this.xs = this.sampled()
    let [deepest, roots, hangs, top] = [0, 0, 0, 0]
    for (const x of this.xs) {
      deepest = Math.max(deepest, this.girth(x))
      roots = Math.max(roots, this.root(x))
      top = Math.max(top, this.sheer(x))
    }
    for (const p of spec.hung ?? []) hangs = Math.max(hangs, this.root(this.rootAt(p)) + p.span)
    if (spec.cut) hangs = Math.min(hangs, roots + spec.cut)
    this.half = Math.max(deepest, hangs) + gap
    this.top = top
  }

  private sampled(): number[] {
    const { aft, lwl, fore, keel: k, hung = [] } = this.spec
    const from = -aft
    const to = lwl + fore
    const marks = [0, lwl, this.wetFrom, this.wetTo]
    for (let i = 1; i < overhangSamples; i++) {
      const t = i / overhangSamples // short ends bend most
      marks.push(-aft * t, lwl + fore * t)
    }
    if (k) marks.push(k.heel - heelStep, k.heel, k.forefoot, k.heel + heelRise)
    for (const p of hung) marks.push(p.at[0], p.at[1])
    const xs = Array.from({ length: samples + 1 }, (_, i) => from + ((to - from) * i) / samples)
    xs.push(...marks.filter((x) => x > from && x < to))
    xs.sort((a, b) => a - b)
    const kept: number[] = []
    for (const x of xs) {
      const last = kept.at(-1)
      if (last === undefined || Math.abs(x - last) >= 1e-9) kept.push(x)
    }
    return kept
  }

  /** Half-beam and body depth at u, 0 to 1 of the waterline. */
  private halves(u: number): Point {
    const v = Math.min(1, Math.max(0, u))
    return [(this.spec.beam / 2) * fullness(this.spec.plan, v), this.spec.body * fullness(this.spec.profile, v)]
  }

  private inWater(u: number): number {
    const [b, d] = this.halves(u)
    const c = this.spec.chine
    if (!c) return arc(this.quarter, b, d)
    return Math.hypot(b * (1 - c[0]), d * c[1]) + Math.hypot(b * c[0], d * (1 - c[1]))
  }

  /** Skin from the waterline to where a keel would begin; negative where the hull is clear of the water. */
  root(x: number): number {
    return this.run(x, (u) => this.inWater(u))
  }

  /** The same in side view: depth of the body below the waterline. */
  depth(x: number): number {
    return this.run(x, (u) => this.halves(u)[1])
  }

  private run(x: number, f: (u: number) => number): number {
    const { aft, lwl, fore, counter = 0, freeboard } = this.spec
    if (x < 0 && aft > 0) {
      const g = f(0)
      return overhang(g, ((g - f(slopeStep)) / (slopeStep * lwl)) * aft, -counter, Math.min(1, -x / aft))
    }
    if (x > lwl && fore > 0) {
      const g = f(1)
      const slope = ((g - f(1 - slopeStep)) / (slopeStep * lwl)) * fore
      return overhang(g, slope, -freeboard[2], Math.min(1, (x - lwl) / fore))
    }
    return f(Math.min(1, Math.max(0, x / lwl)))
  }

  /** What a long keel adds to the girth. */
  keel(x: number): number {
    const k = this.spec.keel
    if (!k || x < k.heel || x > k.forefoot) return 0
    const ramp = Math.sin((Math.min(1, (k.forefoot - x) / k.ramp) * Math.PI) / 2) ** 1.4
    return k.depth * ramp * Math.min(1, heelShare + ((1 - heelShare) * (x - k.heel)) / heelRise)
  }

  /** Skin from the waterline to the keel's edge: the root and a long keel. */
  girth(x: number): number {
    return this.root(x) + this.keel(x)
  }

  /** Height of the topsides. */
  sheer(x: number): number {
    const lowest = 0.4
    const u = (x + this.spec.aft) / this.length
    const [stern, low, stem] = this.spec.freeboard
    if (u < lowest) return low + (stern - low) * sq((lowest - u) / lowest)
    return low + (stem - low) * sq((u - lowest) / (1 - lowest))
  }

  /** Where a hard chine runs, m below the waterline along the skin. */
  corner(x: number): number {
    const c = this.spec.chine
    if (!c) return 0
    const [b, d] = this.halves(x / this.spec.lwl)
    return Math.min(this.root(x), Math.hypot(b * (1 - c[0]), d * c[1]))
  }

  /** Where a hung part's span is measured from: the fore edge of its root. */
  rootAt(p: Hung): number {
    return Math.min(this.spec.lwl + this.spec.fore, Math.max(-this.spec.aft, p.at[1]))
  }
}

export const sq = (v: number) => v * v

/** Where f passes zero between `inside`, where it is positive, and `outside`. */
export function crossing(f: (x: number) => number, inside: number, outside: number): number {
  if (f(outside) >= 0) return outside
  if (f(inside) <= 0) return inside
  let [a, b] = [inside, outside]
  for (let i = 0; i < 40; i++) {
    const mid = (a + b) / 2
    if (f(mid) > 0) a = mid
    else b = mid
  }
  return a
}

function fullness(c: Curve, u: number): number {
  return u < c.peak
    ? 1 - (1 - c.aft) * ((c.peak - u) / c.peak) ** c.pa
    : 1 - (1 - c.fore) * ((u - c.peak) / (1 - c.peak)) ** c.pf
}

/** The superellipse y^n + z^n = 1 from the waterline (1, 0) to the centreline (0, 1), by 24 chords. */
function quarter(n: number): Point[] {
  const chords = 24
  const list = Array.from({ length: chords + 1 }, (_, i): Point => {
    const t = ((Math.PI / 2) * i) / chords
    return [Math.abs(Math.cos(t)) ** (2 / n), Math.sin(t) ** (2 / n)]
  })
  list[0] = [1, 0]
  list[chords] = [0, 1]
  return list
}

function arc(q: Point[], b: number, d: number): number {
  let sum = 0
  let last = q[0] as Point
  for (const next of q) {
    sum += Math.sqrt(sq(b * (next[0] - last[0])) + sq(d * (next[1] - last[1])))
    last = next
  }
  return sum
}

/** Leaves the waterline's end at g with the slope found there and reaches `end` at t = 1: fair, never turning back. */
function overhang(g: number, slope: number, end: number, t: number): number {
  const fall = end - g
  const m = Math.min(0, Math.max(2 * fall, slope))
  return g + m * t + (fall - m) * t * t
}
