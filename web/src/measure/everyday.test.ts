import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { absoluteHumidity, atSurface, dewPoint, frostPoint, handheld, margin, type Sensors, standing } from './air'
import { contrastOf } from './baseline'
import { certainFrom, chanceToMeet, countsAlike, noneSeenBound, smallestMet } from './coverage'
import { arrhenius, dryingDepth, equivalentDays, polyester, type Stretch } from './drying'
import { medianOf, medianOfPlacements, medianRank } from './order'
import { Unusable } from './refuse'
import { massPerArea, patchArea } from './salt'
import { bounds, parseWritten, shown, type Value } from './value'
import { printed, worked } from './worked'

type Ends = [number | null, number | null]
type Plain = { limit: '' | 'below' | 'above'; at: number }
interface Everyday {
  placements: { tenths: number[]; twentieths: number }[]
  written: (Plain & { text: string; bounds: Ends; shown: string })[]
  notWritten: string[]
  medians: { values: Plain[]; fortieths: Ends }[]
  contrasts: { medianFortieths: number; scatter: number; cases: (Plain & { fortieths: Ends; times: Ends })[] }
  air: {
    air: number
    rh: number
    surface: number
    off: Sensors
    dewPoint: number
    frostPoint: number | null
    absolute: number
    atSurface: number
    margin: number
    lower: number
    upper: number
    standing: string
    notes: string[]
  }[]
  drying: {
    course: Stretch[]
    wall: number
    equivalentDays: number
    low: number
    typical: number
    high: number
    notes: string[]
  }[]
  grids: {
    along: number
    down: number
    pad: number
    flaw: number
    chance: number
    nineInTen: number
    certain: number
  }[]
  zeroCounts: { area: number; level: number; upper: number }[]
  counts: { first: number; area1: number; second: number; area2: number; p: number }[]
  salt: {
    volume: number
    area: number
    rise: number
    volumeOff: number
    riseOff: number
    value: number
    lower: number
    upper: number
  }[]
}
/** Worked a second time in plain Python; domain/measure in Go is held to the same. */
const everyday = worked<Everyday>('everyday.json')

const ends = ([low, high]: readonly [number, number]): Ends => [
  Number.isFinite(low) ? low : null,
  Number.isFinite(high) ? high : null,
]

describe('readings', () => {
  it.each(everyday.placements)('$tenths have their median at $twentieths twentieths', ({ tenths, twentieths }) => {
    expect(medianOfPlacements(tenths)).toBe(twentieths)
  })
  it.each(everyday.written)('“$text” is kept as written', ({ text, shown: face, bounds: known, ...value }) => {
    const got = parseWritten(text) as Value
    expect(got).toMatchObject({ limit: value.limit, at: value.at })
    expect(ends(bounds(got))).toEqual(known)
    expect(shown(got)).toBe(face)
  })
  it.each(everyday.notWritten)('“%s” is no reading', (text) => expect(parseWritten(text)).toBeNull())
  it.each(everyday.medians)('the median of $values by order', ({ values, fortieths }) => {
    const { low, high } = medianOf(values)
    expect(ends([low, high])).toEqual(fortieths)
  })
  it.each(everyday.contrasts.cases)('the contrast of $limit $at', ({ limit, at, fortieths, times }) => {
    const { medianFortieths: median, scatter } = everyday.contrasts
    const got = contrastOf({ limit, at }, { median, scatter })
    expect(ends([got?.span.low ?? NaN, got?.span.high ?? NaN])).toEqual(fortieths)
    for (const [i, want] of times.entries())
      if (want !== null) expect(got?.times[i]).toBeCloseTo(want, 9)
      else expect(got?.times[i]).toBe(i === 0 ? -Infinity : Infinity)
  })
  it('gives the median of six an interval of 96.9 %, of five none at 95 %', () => {
    expect(medianRank(6, 0.95)).toEqual({ rank: 1, covers: 1 - 2 / 64 })
    expect(medianRank(5, 0.95).rank).toBe(0)
  })
  it('does not mind the order of placements', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -50, max: 1000 }), { minLength: 1, maxLength: 5 }), (x) => {
        expect(medianOfPlacements([...x].reverse())).toBe(medianOfPlacements(x))
      }),
    )
  })
})

describe('air', () => {
  it.each(everyday.air)('$air °C, $rh %, skin $surface °C', (c) => {
    expect(dewPoint(c.air, c.rh)).toBeCloseTo(c.dewPoint, 6)
    const frost = frostPoint(c.air, c.rh)
    if (c.frostPoint === null) expect(frost).toBeNull()
    else expect(frost).toBeCloseTo(c.frostPoint, 6)
    expect(absoluteHumidity(c.air, c.rh)).toBeCloseTo(c.absolute, 6)
    expect(atSurface(c.air, c.rh, c.surface)).toBeCloseTo(c.atSurface, 6)
    const m = margin(c.air, c.rh, c.surface, c.off)
    expect(m.value).toBeCloseTo(c.margin, 6)
    expect(m.lower).toBeCloseTo(c.lower, 6)
    expect(m.upper).toBeCloseTo(c.upper, 6)
    expect(m.notes).toEqual(c.notes)
    expect(standing(m)).toBe(c.standing)
  })
  it('has its dew point below the air and rising with humidity', () => {
    const t = fc.double({ min: -45, max: 80, noNaN: true })
    const h = fc.double({ min: 0.1, max: 99, noNaN: true })
    fc.assert(
      fc.property(t, h, (air, rh) => {
        expect(dewPoint(air, rh)).toBeLessThanOrEqual(air + 1e-9)
        expect(dewPoint(air, rh)).toBeLessThan(dewPoint(air, rh + 1))
      }),
    )
  })
  it.each([
    ['t', () => dewPoint(Number.NaN, 60)],
    ['h', () => dewPoint(20, 0)],
    ['surface', () => margin(20, 60, 200)],
    ['off.humidity', () => margin(20, 60, 18, { ...handheld, humidity: -1 })],
  ])('names %s where it cannot be used', (argument, call) => {
    expect(call).toThrow(Unusable)
    expect(call).toThrow(argument)
  })
})

describe('drying', () => {
  interface Tables {
    days: number[]
    rows: { d_m2_per_s: number; mm: number[] }[]
    arrhenius_40_kj: { rows: { c: number; ratio: number }[] }
    sentence: { days: number; c: number; low_mm: number; high_mm: number }
  }
  const tables = worked<Tables>('drying-depth.json')

  it.each(tables.rows)('reaches as deep as the printed table, D = $d_m2_per_s m²/s', ({ d_m2_per_s: d, mm }) => {
    const range = { low: d, typical: d, high: d, activation: 0 }
    for (const [i, days] of tables.days.entries())
      expect(printed(dryingDepth([{ days, at: 20 }], 0, range).typical, mm[i] ?? NaN)).toBe(true)
  })
  it.each(tables.arrhenius_40_kj.rows)('at $c °C goes $ratio times as fast as at 20', ({ c, ratio }) => {
    expect(printed(arrhenius(c, 40e3), ratio)).toBe(true)
  })
  it('gives the sentence of the design', () => {
    const { days, c, low_mm, high_mm } = tables.sentence
    const d = dryingDepth([{ days, at: c }])
    expect([printed(d.low, low_mm), printed(d.high, high_mm)]).toEqual([true, true])
  })
  it.each(everyday.drying)('$course behind $wall mm', (c) => {
    const d = dryingDepth(c.course, c.wall)
    expect(equivalentDays(c.course, polyester.activation)).toBeCloseTo(c.equivalentDays, 8)
    for (const end of ['low', 'typical', 'high'] as const) expect(d[end]).toBeCloseTo(c[end], 6)
    expect(d.notes).toEqual(c.notes)
  })
  it('never dries less for longer or warmer', () => {
    const days = fc.double({ min: 0, max: 2000, noNaN: true })
    const at = fc.double({ min: -10, max: 60, noNaN: true })
    fc.assert(
      fc.property(days, at, fc.constantFrom(0, 4, 12), (n, t, wall) => {
        const depth = dryingDepth([{ days: n, at: t }], wall).typical
        expect(dryingDepth([{ days: n + 1, at: t }], wall).typical).toBeGreaterThanOrEqual(depth - 1e-9)
        expect(dryingDepth([{ days: n, at: t + 1 }], wall).typical).toBeGreaterThanOrEqual(depth - 1e-9)
      }),
    )
  })
  it('refuses a course that is none', () => {
    expect(() => dryingDepth([])).toThrow('course')
    expect(() => dryingDepth([{ days: Number.POSITIVE_INFINITY, at: 20 }])).toThrow('course[0].days')
  })
})

describe('coverage', () => {
  interface Figures {
    square_grid: { spacing_mm: number; flaw_mm: number; chance: number }[]
    smallest_over_spacing: { nine_in_ten: number; certain: number }
    zero_count: { area_m2: number; upper_95_per_m2: number }[]
    equal_areas: { first: number; second: number; p: number }[]
  }
  const figures = worked<Figures>('coverage.json')

  it.each(figures.square_grid)('meets $flaw_mm mm every $spacing_mm mm in $chance', (c) => {
    const g = { along: c.spacing_mm, down: c.spacing_mm, pad: 0 }
    expect(printed(chanceToMeet(g, c.flaw_mm), c.chance)).toBe(true)
  })
  it('meets nine in ten from 1.12 spacings, all from 1.41', () => {
    const g = { along: 1, down: 1, pad: 0 }
    expect(printed(smallestMet(g), figures.smallest_over_spacing.nine_in_ten)).toBe(true)
    expect(printed(certainFrom(g), figures.smallest_over_spacing.certain)).toBe(true)
  })
  it.each(everyday.grids)('$along × $down mm, pad $pad, flaw $flaw', (c) => {
    expect(Math.abs(chanceToMeet(c, c.flaw) - c.chance)).toBeLessThan(1e-5)
    expect(Math.abs(smallestMet(c) - c.nineInTen)).toBeLessThan(0.02)
    expect(certainFrom(c)).toBeCloseTo(c.certain, 5)
  })
  it.each(figures.zero_count)('leaves $upper_95_per_m2 per m² open in $area_m2 m²', (c) => {
    expect(Math.abs(noneSeenBound(c.area_m2) - c.upper_95_per_m2)).toBeLessThan(0.05)
  })
  it.each(everyday.zeroCounts)('leaves $upper open in $area m² at $level', ({ area, level, upper }) => {
    expect(noneSeenBound(area, level)).toBeCloseTo(upper, 6)
  })
  it.each(figures.equal_areas)('$first beside $second: p $p', ({ first, second, p }) => {
    expect(printed(countsAlike(first, 1, second, 1), p)).toBe(true)
  })
  it.each(everyday.counts)('$first in $area1 m² beside $second in $area2', ({ first, area1, second, area2, p }) => {
    expect(countsAlike(first, area1, second, area2)).toBeCloseTo(p, 8)
    expect(countsAlike(second, area2, first, area1)).toBeCloseTo(p, 8)
  })
  it('refuses what cannot be', () => {
    expect(() => chanceToMeet({ along: 0, down: 1, pad: 0 }, 5)).toThrow('grid.along')
    expect(() => noneSeenBound(-1)).toThrow('area')
    expect(() => countsAlike(0, 1, 0, 1)).toThrow('both be 0')
  })
})

describe('salt', () => {
  interface Rows {
    area_mm2: number
    rise_us_cm: number
    rows: { volume_ml: number; mg_per_m2: number }[]
  }
  const table = worked<Rows>('salt.json')

  it.each(table.rows)('$volume_ml mL make $mg_per_m2 mg/m² of each µS/cm', ({ volume_ml, mg_per_m2 }) => {
    expect(table.area_mm2).toBe(patchArea)
    const got = massPerArea({ volume: volume_ml, area: table.area_mm2, rise: table.rise_us_cm })
    expect(got.value).toBeCloseTo(mg_per_m2, 9)
    expect(got.notes).toEqual(['no-limit-for-grp', 'blind-to-glycol'])
  })
  it.each(everyday.salt)('$volume mL, $rise µS/cm', ({ value, lower, upper, ...patch }) => {
    const got = massPerArea(patch)
    for (const [a, b] of [
      [got.value, value],
      [got.lower, lower],
      [got.upper, upper],
    ] as const)
      expect(a).toBeCloseTo(b, 9)
  })
  it('refuses water that was saltier before', () => {
    expect(() => massPerArea({ volume: 3, area: patchArea, rise: -1 })).toThrow('rise')
  })
})
