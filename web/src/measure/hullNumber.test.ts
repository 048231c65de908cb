import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readHullNumber } from './hullNumber'
import { worked } from './worked'

interface Case {
  name: string
  text: string
  written: string
  layout: string
  country: string
  maker: string
  serial: string
  mayNameBuilder: boolean
  month: number
  years: number[]
  modelYears: number[]
  perhaps: string[]
  warnings: string[]
  notes: string[]
}
const file = worked<{ asOf: string; cases: Case[] }>('hull-numbers.json')
const year = Number(file.asOf.slice(0, 4))

describe('hull numbers, read as in Go', () => {
  it.each(file.cases)('$name', ({ name: _, text, ...want }) => {
    expect(readHullNumber(text, year)).toMatchObject({ asRead: text, ...want })
  })
})

/** 33 CFR 181.25 as read in two stored editions, Regulation (EU) 2017/1; examples invented. */
interface Reference {
  us: Kind
  international: Kind
  year_resolution: { year_digit: number; model_year: string; result: number }[]
}
interface Kind {
  valid: { number: string; country?: string; parsed: { manufacturer: string; serial: string; month: number } }[]
  invalid: { number: string; reason: string }[]
}
const reference = worked<Reference>('12-hull-identification.json')

describe('the rules themselves', () => {
  it.each([...reference.us.valid, ...reference.international.valid])('$number is divided', (c) => {
    const n = readHullNumber(c.number, year)
    expect([n.maker, n.serial, n.month]).toEqual([c.parsed.manufacturer, c.parsed.serial, c.parsed.month])
    expect([n.written, n.country, n.perhaps]).toEqual([c.number, c.country ?? '', []])
  })
  it.each([...reference.us.invalid, ...reference.international.invalid])('$number: $reason', ({ number }) => {
    const n = readHullNumber(number, year)
    expect([...n.warnings, ...n.notes.filter((code) => code !== 'year-resolved')]).not.toEqual([])
  })
  it.each(reference.year_resolution)('digit $year_digit beside $model_year is $result', (c) => {
    expect(readHullNumber(`ZZZ12345A${c.year_digit}${c.model_year}`, year).years[0]).toBe(c.result)
  })
})

describe('whatever stands on a boat', () => {
  it('is kept as it was read, and never unknown without a word', () => {
    const like = fc.string({ unit: fc.constantFrom(...'ABZM012589OIQ- /é４') })
    fc.assert(
      fc.property(fc.oneof(fc.string({ unit: 'grapheme' }), like), (text) => {
        const n = readHullNumber(text, year)
        expect(n.asRead).toBe(text)
        if (n.layout === 'unknown') expect(n.warnings).not.toEqual([])
        for (const p of n.perhaps) expect(readHullNumber(p, year).layout).not.toBe('unknown')
        if (n.written) expect(readHullNumber(n.written, year)).toMatchObject({ serial: n.serial, years: n.years })
      }),
    )
  })
})
