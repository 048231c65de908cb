import fc from 'fast-check'
import { expect, it } from 'vitest'
import { fromDims, type Kind, kinds } from './defaults'
import { draw } from './draw'
import type { Options, Reading } from './options'
import type { Plate } from './plate'
import { Shape } from './shape'
import { silhouette } from './silhouette'

const reading = fc.record({
  id: fc.string({ minLength: 1, maxLength: 6 }),
  side: fc.constantFrom('port' as const, 'starboard' as const, 'centre' as const),
  along: fc.double({ min: -3, max: 60, noNaN: true }),
  down: fc.double({ min: -3, max: 8, noNaN: true }),
  step: fc.integer({ min: -1, max: 4 }),
  value: fc.string({ maxLength: 6 }),
  above: fc.double({ min: -50, max: 100, noNaN: true }),
  said: fc.constantFrom('up' as const, 'down' as const, 'none' as const, 'untold' as const),
}) satisfies fc.Arbitrary<Reading>

const options = fc.record({
  width: fc.integer({ min: 0, max: 2000 }),
  small: fc.boolean(),
  mode: fc.constantFrom('today' as const, 'change' as const, 'map' as const),
  readings: fc.array(reading, { maxLength: 12 }),
  title: fc.string({ maxLength: 30 }),
  edges: fc.constant([4, 9, 15, 22] as const),
}) satisfies fc.Arbitrary<Options>

const dims = fc.record({
  loa: fc.double({ min: 2, max: 50, noNaN: true }),
  beam: fc.double({ min: 0.12, max: 0.6, noNaN: true }),
  draught: fc.double({ min: 0.05, max: 0.4, noNaN: true }),
})

it('draws any boat of any size with any readings in finite marks', { timeout: 60_000 }, () => {
  fc.assert(
    fc.property(fc.constantFrom(...(Object.keys(kinds) as Kind[])), dims, options, (kind, d, o) => {
      const made = fromDims(kind, { loa: d.loa, beam: d.beam * d.loa, draught: d.draught * d.loa })
      if (!made.spec) return
      const h = new Shape(made.spec)
      expect(wrong(draw(h, o))).toEqual([])
      expect(wrong(silhouette(h, o.width))).toEqual([])
    }),
    { numRuns: 60 },
  )
})

const finite = (v = 0) => Number.isFinite(v) && Math.abs(v) < 1e6

function wrong({ width, height, marks }: Plate) {
  const sizes = marks.filter(
    (m) => [m.r, m.w, m.h, m.size].some((v = 0) => !finite(v) || v < 0) || ![m.x, m.y].every(finite),
  )
  const points = marks.filter((m) => m.lines?.some((l) => l.some(([x, y]) => !finite(x) || !finite(y))))
  return [...sizes, ...points, ...(finite(width) && finite(height) && height > 0 ? [] : ['sheet'])]
}
