import { behind, fittings } from './behind'
import { cartouche } from './cartouche'
import { frame } from './frame'
import { bilge, hungs } from './hung'
import { contours } from './map'
import type { Options } from './options'
import { type Plate, round } from './plate'
import { bearings, pins, readings } from './readings'
import type { Shape } from './shape'
import { Sheet, sides } from './sheet'
import { skin } from './skin'
import { names, sideNames } from './words'

/** Draws a shape: the same marks as domain/figure Draw in Go, in the same order. */
export function draw(h: Shape, o: Options): Plate {
  const p = new Sheet(h, o)
  frame(p)
  for (const side of sides) skin(p, side)
  if (o.mode === 'map') contours(p)
  for (const side of sides) {
    bilge(p, side)
    hungs(p, side)
  }
  sideNames(p)
  cartouche(p)
  behind(p)
  fittings(p)
  names(p)
  bearings(p)
  readings(p)
  pins(p)
  return {
    width: p.w,
    height: round(p.height),
    ...(o.small ? { small: true } : {}),
    mode: o.mode ?? 'today',
    label: o.label ?? '',
    marks: p.marks,
  }
}
