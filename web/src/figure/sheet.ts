import type { Options, Reading, Side } from './options'
import { Ink, type Line } from './plate'
import type { Point, Shape } from './shape'
import type { Box, Named } from './words'

export const sides = ['port', 'starboard'] as const

/** The narrowest sheet, px; below it the frame would turn inside out. */
const minWidth = 160
const leastRadius = 2.2
const leastFigure = 6
/** A mark whose figure is read with ease. */
const easyRadius = 8.5
/** From the paper's edge to the graduated line, how broad that is, from there to the hull, and below it. */
const margins = { small: [8, 5, 6, 5], full: [36, 9, 16, 11] } as const

/** A plate being drawn. */
export class Sheet extends Ink {
  readonly w: number
  readonly height: number
  /** Pixels a metre, the same both ways. */
  readonly s: number
  /** From the paper's edge to the graduated line, how broad that is, from there to the hull. */
  readonly edge: number
  readonly line: number
  readonly pad: number
  readonly mid: number
  /** Radius of a mark. */
  readonly r: number
  /** Where names stand already, and what still wants one. */
  readonly taken: Box[] = []
  readonly wants: Named[] = []

  constructor(
    readonly h: Shape,
    readonly o: Options,
  ) {
    super()
    const [edge, line, pad, foot] = o.small ? margins.small : margins.full
    this.w = Math.max(minWidth, o.width)
    this.edge = edge
    this.line = line
    this.pad = pad
    this.s = (this.w - 2 * (this.edge + this.line + this.pad)) / h.length
    this.height = 2 * (this.edge + this.line + foot) + 2 * (h.half + h.top) * this.s
    this.mid = this.height / 2
    this.r = this.radius()
  }

  /** Asked for, or as large as the plan's places leave room for. */
  private radius(): number {
    if (this.o.radius) return Math.max(leastRadius, this.o.radius)
    const r = this.o.small ? 4 : Math.min(11, 0.15 * this.s - 1)
    return Math.max(leastRadius, Math.min(r, 0.48 * this.s * closest(this.o.readings ?? [])))
  }

  /** Whether marks carry figures: not on a small plate, nor where they would be too small to read. */
  get figures(): boolean {
    return !this.o.small && this.r >= leastFigure
  }

  X(along: number): number {
    return this.edge + this.line + this.pad + (along + this.h.spec.aft) * this.s
  }

  /** The inverse of X, kept to the hull. */
  metres(x: number): number {
    const { aft, lwl, fore } = this.h.spec
    return Math.min(lwl + fore, Math.max(-aft, (x - this.edge - this.line - this.pad) / this.s - aft))
  }

  Y(side: Side, down: number): number {
    if (side === 'centre') return this.mid
    return this.mid + (side === 'starboard' ? 1 : -1) * (this.h.half - down) * this.s
  }

  at(side: Side, along: number, down: number): Point {
    return [this.X(along), this.Y(side, down)]
  }

  /** Draws f over the samples between from and to, both included. */
  curve(side: Side, from: number, to: number, f: (x: number) => number): Line {
    if (to <= from) return []
    const l: Line = [this.at(side, from, f(from))]
    for (const x of this.h.xs) if (x > from + 1e-9 && x < to - 1e-9) l.push(this.at(side, x, f(x)))
    l.push(this.at(side, to, f(to)))
    return l
  }

  /** Draws f over the part of the length that is in the water. */
  wet(side: Side, f: (x: number) => number): Line {
    return this.curve(side, this.h.wetFrom, this.h.wetTo, f)
  }
}

/** The width, px, at which the figures of all these places are read with ease. */
export function easyWidth(h: Shape, list: readonly Reading[]): number {
  const [edge, line, pad] = margins.full
  const s = Math.max((easyRadius + 1) / 0.15, easyRadius / (0.48 * closest(list)))
  return Math.ceil(s * h.length + 2 * (edge + line + pad))
}

/** The least distance between two places of a side, m; 1 where there are none. */
function closest(list: readonly Reading[]): number {
  let least = 1
  list.forEach((a, i) => {
    for (let j = 0; j < i; j++) {
      const b = list[j] as Reading
      if (a.side !== b.side || Math.abs(a.along - b.along) > 1) continue
      const d = Math.hypot(a.along - b.along, a.down - b.down)
      if (d > 0.02) least = Math.min(least, d)
    }
  })
  return least
}
