import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { fromDims, kinds } from '../figure/defaults'
import { drySaid, fewestDry, layOut, mostPlaces, usual } from './layout'
import { lies } from './statements'

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

  it('keeps its dry places clear of what is drawn behind the skin, and says of what', () => {
    const tank = {
      what: 'water tank',
      side: 'port' as const,
      outline: [
        [2, -0.6],
        [4, -0.6],
        [4, 0.4],
        [2, 0.4],
      ] as const,
    }
    const bulkhead = {
      what: 'main bulkhead',
      side: null,
      outline: [
        [6, -1],
        [6, 0.6],
      ] as const,
    }
    const grid = layOut(sloop, usual, [tank, bulkhead])
    const dry = grid.dry.map((i) => ({
      side: grid.sides[i] ?? 'port',
      along: (grid.along[i] ?? 0) / 1000,
      down: (grid.down[i] ?? 0) / 1000,
    }))
    expect(dry.length).toBeGreaterThanOrEqual(fewestDry)
    expect(dry.filter((spot) => lies(spot, tank))).toEqual([])
    expect(dry.filter(({ along }) => Math.abs(along - 6) < 0.1)).toEqual([])
    expect(dry.some(({ side, along }) => side === 'starboard' && along === 3)).toBe(true)
    expect(grid.over).toEqual(['water tank', 'main bulkhead'])
    expect(drySaid(grid)).toEqual({
      bad: false,
      text: `Left out of the dry row: ${grid.lost} places over or beside what is drawn behind the skin (water tank, main bulkhead).`,
    })
    // The rows below the water stay: what lies behind them is what the readings are for.
    expect(grid.labels.length - grid.dry.length).toBe(
      layOut(sloop, usual).labels.length - layOut(sloop, usual).dry.length,
    )
  })

  it('says so where no place is left, or none on one side', () => {
    const all = {
      what: 'foam lining',
      side: null,
      outline: [
        [-1, -3],
        [12, -3],
        [12, 0],
        [-1, 0],
      ] as const,
    }
    expect(drySaid(layOut(sloop, usual, [all]))?.text).toMatch(/^No place of the dry row is clear .*foam lining/)
    const port = layOut(sloop, usual, [{ ...all, side: 'port' }])
    expect(drySaid(port)).toMatchObject({ bad: true, text: expect.stringMatching(/^To port no place .*both sides/) })
    expect(drySaid(layOut(sloop, usual))).toBeNull()
  })
})
