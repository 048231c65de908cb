import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Baseline, baselineOf, contrastOf, type DryPlace, defaults, isValid, reasonInWords } from './baseline'
import { isExact } from './order'
import { exact, type Value } from './value'
import { worked } from './worked'

interface Read {
  tenths: number
  limit?: 'below' | 'above'
  side?: 'port' | 'starboard'
  above?: number
  surface?: string
}
interface Case {
  name: string
  settings: { least: number; clear: number; share: number; step: number; surface: string }
  dry: Read[]
  under: Read[]
  want: {
    medianFortieths: number | null
    contrastFortieths: number | null
    scatter: number | null
    reasons: string[]
    leftOut: [number, string][]
  }
}
const { cases } = worked<{ cases: Case[] }>('baseline.json')

const value = (r: Read): Value => ({ limit: r.limit ?? '', at: r.tenths * 2 })
const place = (r: Read): DryPlace => ({
  value: value(r),
  side: r.side ?? '',
  above: r.above ?? null,
  surface: r.surface ?? '',
})

describe('the baseline of a pass, worked as in Go', () => {
  it.each(cases)('$name', ({ settings, dry, under, want }) => {
    const b = baselineOf((dry ?? []).map(place), (under ?? []).map(value), { ...defaults, ...settings })
    expect(b.reasons.map(({ why }) => why)).toEqual(want.reasons)
    expect(b.leftOut.map(({ index, why }) => [index, why])).toEqual(want.leftOut)
    expect(b.median && isExact(b.median) ? b.median.low : null).toBe(want.medianFortieths)
    if (want.scatter === null) expect(b.scatter).toBeNull()
    else expect(b.scatter).toBeCloseTo(want.scatter, 9)
    if (want.contrastFortieths !== null) expect(b.contrast?.low).toBe(want.contrastFortieths)
    for (const r of b.reasons) expect(reasonInWords(r)).toMatch(/\.$/)
  })
})

const topsides = (tenths: number[]): DryPlace[] =>
  tenths.map((t, i) => ({ value: exact(t * 2), side: i % 2 ? 'starboard' : 'port', above: 400, surface: 'gelcoat' }))
const wet = (tenths: number[]) => tenths.map((t) => exact(t * 2))

describe('a dry level', () => {
  it('has an interval that assumes no distribution: the extremes of six cover 96.9 %', () => {
    const b = baselineOf(topsides([100, 105, 110, 111, 120, 140]), wet([300, 310, 320]))
    expect([b.lower, b.upper, b.covers]).toEqual([10, 14, 1 - 2 / 64])
    expect([b.port, b.starboard, b.count]).toEqual([3, 3, 6])
  })
  it('gives no contrast where it is void', () => {
    const b = baselineOf(topsides([100, 105, 110, 111, 120]), wet([300, 310, 320]))
    expect(isValid(b)).toBe(false)
    expect(contrastOf(exact(600), b)).toBeNull()
  })
  it('takes the whole of a reading beyond the scale as a bound', () => {
    const b = baselineOf(topsides([100, 105, 110, 111, 120, 140]), wet([300, 310]))
    expect(contrastOf({ limit: 'above', at: 2000 }, b)?.span).toEqual({ low: 4000 - 442, high: Infinity })
    expect(contrastOf({ limit: 'range', at: 350, low: 300, high: 400 }, b)?.span).toEqual({ low: 158, high: 358 })
  })
  it('does not move with the order of places, the side or the zero of the instrument', () => {
    const dry = fc.array(fc.integer({ min: 50, max: 150 }), { minLength: 6, maxLength: 14 })
    const under = fc.array(fc.integer({ min: 200, max: 600 }), { minLength: 1, maxLength: 20 })
    fc.assert(
      fc.property(dry, under, fc.integer({ min: 0, max: 300 }), (d, u, zero) => {
        const a = baselineOf(topsides(d), wet(u))
        const other = topsides(d.map((t) => t + zero))
          .map((p): DryPlace => ({ ...p, side: p.side === 'port' ? 'starboard' : 'port' }))
          .reverse()
        const b = baselineOf(other, wet(u.map((t) => t + zero).reverse()))
        const told = (x: Baseline) => [x.reasons.map(({ why }) => why), x.contrast, x.scatter, x.covers]
        expect(told(b)).toEqual(told(a))
        expect([b.port, b.starboard]).toEqual([a.starboard, a.port])
      }),
    )
  })
})
