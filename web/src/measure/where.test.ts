import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { fitVariogram, hatchFrom, Kriged, sampleVariogram } from './where'
import { worked } from './worked'

/** Natural log of zinc in the Meuse flood plain (Burrough and McDonnell 1998); figures of gstat 2.1-0. */
interface Meuse {
  model: { nugget: number; partial_sill: number; range_m: number }
  locations: { x: number; y: number }[]
  global_neighbourhood: { prediction: number[]; variance: number[] }
  sample_variogram_default: { pairs: number[]; mean_distance: number[]; gamma: number[] }
  fitted_spherical: { nugget: number; partial_sill: number; range_m: number }
}
const meuse = worked<Meuse>('08-kriging.json')
const rows = readFileSync(new URL('../../../testdata/measure/08-meuse-log-zinc.csv', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(',').map(Number) as [number, number, number, number])
const points = rows.map(([, x, y]) => ({ x, y }))
const zinc = rows.map(([, , , ppm]) => Math.log(ppm))

describe('a map between places', () => {
  it('agrees with gstat on the sample variogram and its fit', () => {
    const lags = sampleVariogram(points, zinc)
    const want = meuse.sample_variogram_default
    expect(lags.map(({ pairs }) => pairs)).toEqual(want.pairs)
    lags.forEach(({ distance, gamma }, i) => {
      expect(distance).toBeCloseTo(want.mean_distance[i] as number, 6)
      expect(gamma).toBeCloseTo(want.gamma[i] as number, 9)
    })
    const { nugget, sill, range } = fitVariogram(lags)
    // gstat stops early: its sum of squares is a little above the least one.
    expect(nugget).toBeCloseTo(meuse.fitted_spherical.nugget, 4)
    expect(sill).toBeCloseTo(meuse.fitted_spherical.partial_sill, 4)
    expect(range / meuse.fitted_spherical.range_m).toBeCloseTo(1, 4)
  })

  it('agrees with gstat on the surface and its variance, the nugget taken off as error of reading', () => {
    const { nugget, partial_sill: sill, range_m: range } = meuse.model
    const map = new Kriged(points, zinc, { nugget, sill, range })
    meuse.locations.forEach((at, i) => {
      if (i === 6) return // a place that was read: gstat gives it back, error and all
      const { value, doubt } = map.at(at)
      expect(value).toBeCloseTo(meuse.global_neighbourhood.prediction[i] as number, 8)
      expect(doubt ** 2 * sill).toBeCloseTo((meuse.global_neighbourhood.variance[i] as number) - nugget, 8)
    })
  })

  it('does not know what lies beyond the places, and knows between them', () => {
    const grid = Array.from({ length: 90 }, (_, k) => ({ x: 500 * Math.floor(k / 6), y: 300 * (k % 6) }))
    const map = new Kriged(
      grid,
      grid.map(({ x, y }) => 20 + x / 1000 + y / 500),
      { nugget: 1, sill: 16, range: 900 },
    )
    const hatched = (x: number) => map.at({ x, y: 600 }).doubt >= hatchFrom
    expect([250, 3250, 6750].map(hatched)).toEqual([false, false, false])
    expect([8300, 9000].map(hatched)).toEqual([true, true])
  })

  it('knows nothing between places where near ones are no more alike than far ones', () => {
    const map = new Kriged(points, zinc, { nugget: 0.6, sill: 0, range: 100 })
    expect(map.at({ x: 179660, y: 330980 }).doubt).toBe(1)
  })

  it('refuses what cannot be mapped', () => {
    expect(() => sampleVariogram([{ x: 1, y: 1 }], [2])).toThrow('must not all be the same')
    expect(() => fitVariogram([])).toThrow('at least three distances')
    expect(() => new Kriged([{ x: 1, y: 1 }], [1], { nugget: 1, sill: 1, range: 1 })).toThrow('at least 3')
  })
})
