import { fromDims } from './defaults'
import { Shape } from './shape'
import type { Spec } from './spec'

/** The shape that places are drawn on: the hull's own, or where it is not known a plain one long enough for them. */
export const shapeOf = (spec: Spec | null, places: readonly { along: number }[]) => new Shape(spec ?? assumed(places))

function assumed(places: readonly { along: number }[]): Spec {
  const along = Math.max(7, ...places.map((place) => place.along))
  const loa = Math.min(50, (along + 0.6) / 0.9)
  const made = fromDims('finKeelSloop', { loa, beam: 0.32 * loa, draught: 0.17 * loa })
  if (!made.spec) throw new Error('the plain hull cannot be drawn')
  return { ...made.spec, hung: [] }
}
