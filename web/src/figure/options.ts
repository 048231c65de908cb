import type { Mode } from './plate'
import type { Point } from './shape'

export type Side = 'port' | 'starboard' | 'centre'

/** What is drawn on a shape; `width` is needed, the rest may be left out. domain/figure Options in Go. */
export interface Options {
  width: number
  small?: boolean
  mode?: Mode
  readings?: readonly Reading[]
  chosen?: string
  stations?: readonly Tick[]
  rows?: readonly Tick[]
  layers?: readonly Layer[]
  fittings?: readonly Fitting[]
  pins?: readonly Pin[]
  /** Map only: lower limits of steps 1 to 4, how far from a place it is drawn, m, and what lies between places. */
  edges?: readonly [number, number, number, number]
  reach?: number
  surface?: Surface
  title?: string
  under?: string
  label?: string
  radius?: number
  bare?: boolean
}

/**
 * Contrasts between the places with their doubt, on a lattice over the skin laid flat: metres along, and metres
 * from the centreline over the skin, port negative. Row by row; beyond it nothing is known.
 */
export interface Surface {
  along: number
  across: number
  step: number
  cols: number
  rows: number
  above: readonly number[]
  /** Standard error as a share of what one would be off by knowing of no place; hatched from `hatchFrom`. */
  doubt: readonly number[]
  hatchFrom: number
}

/** A station or a row: its word (its number when empty) and its distance, m. */
export interface Tick {
  word?: string
  at: number
}

/** One place of a pass. */
export interface Reading {
  id: string
  side: Side
  along: number
  down: number
  value?: string
  /** Contrast with the dry baseline, scale units; for the map. */
  above?: number
  /** Of `above`, 0 to 4, or -1 in a pass without a baseline. */
  step: number
  gap?: 'unread' | 'void' | 'due'
  follow?: boolean
  dry?: boolean
  /** In mode change: what may be said, and by how much; `untold` with an amount is a difference without a verdict. */
  said?: 'up' | 'down' | 'none' | 'untold'
  by?: string
}

export interface Layer {
  name?: string
  side: 'port' | 'starboard' | 'both'
  kind: 'tank' | 'bulkhead' | 'outline'
  outline: readonly Point[]
  label?: Point
}

export interface Fitting {
  name?: string
  side: Side
  along: number
  down: number
  label?: Point
}

export interface Pin {
  id: string
  side: Side
  along: number
  down: number
  kind: 'finding' | 'window' | 'photo'
  word?: string
  /** As drawn on the skin, in along, down; none where it is a spot. */
  outline?: readonly Point[]
}

/** How many edges a contrast reaches. */
export const stepOf = (above: number, edges: readonly number[]) => edges.filter((e) => above >= e).length
