import { expect, it } from 'vitest'
import { fromDims } from './defaults'
import { Field } from './map'
import type { Reading } from './options'
import { Shape } from './shape'
import { Sheet } from './sheet'
import { surface } from './surface'

const { spec } = fromDims('finKeelSloop', { loa: 10.55, beam: 3.5, draught: 1.75 })
if (!spec) throw new Error('no spec')
const h = new Shape(spec)

/** A plan of both sides, three rows of twelve stations; higher forward, as `above` says. */
function plan(above: (along: number, down: number) => number): Reading[] {
  return (['port', 'starboard'] as const).flatMap((side) =>
    Array.from({ length: 36 }, (_, k) => {
      const [along, down] = [2 + 0.5 * Math.floor(k / 3), 0.15 + 0.3 * (k % 3)]
      return { id: `${side}${k}`, side, along, down, step: 1, above: above(along, down) }
    }),
  )
}
const field = (readings: Reading[]) =>
  new Field(
    new Sheet(h, { width: 800, mode: 'map', readings, edges: [4, 9, 15, 22], surface: surface(h, readings) }),
    'port',
  )
const unknown = 5

it('draws between places, and hatches beyond them and about one that was not read', () => {
  const smooth = plan((x) => 4 * x + 2)
  expect(field(smooth).step(2.25, 0.3)).toBe(2)
  expect(field(smooth).step(4.25, 0.3)).toBe(3)
  const gap = smooth.map(
    (q): Reading => (q.side === 'port' && q.along === 4 && q.down < 0.2 ? { ...q, gap: 'unread' } : q),
  )
  expect(field(gap).step(4, 0.15)).toBe(unknown)
  expect(field(gap).step(4.5, 0.15)).toBe(3)
  // Nothing was read forward of 7.5 m; how far the last station speaks follows from how alike near places are.
  const near = plan((x, d) => 12 + 6 * Math.sin(3 * x) + 4 * Math.cos(4 * d))
  expect(field(near).step(7.3, 0.3)).not.toBe(unknown)
  expect(field(near).step(9.4, 0.1)).toBe(unknown)
})

it('hatches all of it where near places are no more alike than far ones, or too few were read', () => {
  const noise = plan(() => 0).map((q, i) => ({ ...q, above: i % 2 ? 20 : 4 }))
  expect(surface(h, noise).doubt.every((d) => d >= 0.9)).toBe(true)
  expect(surface(h, noise.slice(0, 9)).cols).toBe(0)
  expect(field(noise.slice(0, 9)).step(2, 0.15)).toBe(unknown)
})
