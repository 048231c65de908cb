import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { fromDims, kinds } from '../figure/defaults'
import { fewestDry, layOut, mostPlaces, usual } from './layout'

const sloop = fromDims('finKeelSloop', { loa: 10.55, beam: 3.4, draught: 1.85 }).spec
if (!sloop) throw new Error('a sloop can be drawn')

describe('a grid laid out', () => {
  it('mirrors every place and gives each a label of its own on its side', () => {
    const grid = layOut(sloop, usual)
    const of = (side: string) => grid.labels.filter((_, i) => grid.sides[i] === side)
    expect(of('port')).toEqual(of('starboard'))
    expect(new Set(of('port')).size).toBe(of('port').length)
  })

  it('has dry places enough for a baseline, above the water on both sides', () => {
    const grid = layOut(sloop, usual)
    expect(grid.dry.length).toBeGreaterThanOrEqual(10)
    expect(grid.dry.every((i) => (grid.down[i] ?? 0) <= -250)).toBe(true)
    expect(new Set(grid.dry.map((i) => grid.sides[i])).size).toBe(2)
  })

  it('has a dry place at every station where few stations would leave no baseline', () => {
    const grid = layOut(sloop, { ...usual, station: 1.5 })
    expect(grid.dry.length).toBeGreaterThanOrEqual(fewestDry)
    expect(grid.dry.map((i) => grid.stations[i])).toContain(1)
  })

  it('stays on the skin of any hull, and within what one call takes', () => {
    fc.assert(
      fc.property(fc.constantFrom(...Object.keys(kinds)), fc.double({ min: 4, max: 16, noNaN: true }), (kind, loa) => {
        const spec = fromDims(kind, { loa, beam: 0.32 * loa, draught: 0.15 * loa }).spec
        if (!spec) return
        const grid = layOut(spec, loa > 12 ? { ...usual, station: 1 } : usual)
        expect(grid.labels.length).toBeLessThanOrEqual(mostPlaces)
        expect(grid.along.every((mm) => mm >= 0 && mm <= spec.lwl * 1000 + 1)).toBe(true)
      }),
      { numRuns: 40 },
    )
  })
})
