import type { Point } from './shape'

/** A finished drawing: marks in the order they are inked, in pixels. domain/figure Plate in Go. */
export interface Plate {
  width: number
  height: number
  small?: boolean
  mode: Mode
  label: string
  marks: Mark[]
}

export type Mode = 'today' | 'change' | 'map'
export type Line = Point[]
export type Anchor = 'start' | 'middle' | 'end'
export type Pattern = 'metal' | 'blade' | 'unread'

/** One thing to ink. Marks in a row with the same `place` belong to the reading there. */
export interface Mark {
  kind: 'path' | 'circle' | 'rect' | 'text'
  class: string
  place?: string
  lines?: Line[]
  closed?: boolean
  x?: number
  y?: number
  r?: number
  w?: number
  h?: number
  text?: string
  anchor?: Anchor
  size?: number
  fill?: Pattern
}

/** The lines of a pattern: degrees from the x axis, px between two, and their class. */
export const hatches: Record<Pattern, { angle: number; pitch: number; class: string }> = {
  metal: { angle: 135, pitch: 5, class: 'hatch' },
  blade: { angle: 0, pitch: 4, class: 'hatch' },
  unread: { angle: 45, pitch: 4, class: 'hatch strong' },
}

/** Coordinates are kept to a hundredth of a pixel. */
export const round = (v: number) => Math.round(v * 100) / 100

/** Collects marks. */
export class Ink {
  readonly marks: Mark[] = []
  place = ''

  add(m: Mark) {
    for (const key of ['x', 'y', 'r', 'w', 'h', 'size'] as const) {
      const v = m[key]
      if (v !== undefined) m[key] = round(v)
    }
    if (m.lines) m.lines = m.lines.map((l) => l.map(([x, y]): Point => [round(x), round(y)]))
    if (this.place) m.place = this.place
    this.marks.push(m)
  }

  path(cls: string, ...lines: Line[]) {
    this.add({ kind: 'path', class: cls, lines })
  }

  area(cls: string, line: Line) {
    this.add({ kind: 'path', class: cls, lines: [line], closed: true })
  }

  circle(cls: string, x: number, y: number, r: number) {
    this.add({ kind: 'circle', class: cls, x, y, r })
  }

  rect(cls: string, x: number, y: number, w: number, h: number) {
    this.add({ kind: 'rect', class: cls, x, y, w, h })
  }

  text(cls: string, text: string, x: number, y: number, size: number, anchor: Anchor) {
    this.add({ kind: 'text', class: cls, text, x, y, size, anchor })
  }
}

/** Joins two curves into one closed line. */
export const between = (there: Line, back: Line): Line => [...there, ...back.reverse()]
