import { expect, it } from 'vitest'
import { minorOf, money, taxOf, typed } from './money'

// Minor units by ISO 4217: EUR 2, JPY 0, KWD 3.
it.each([
  [12345, 'EUR', '€123.45'],
  [500, 'JPY', 'JP¥500'],
  [1234, 'KWD', 'KWD 1.234'],
  [0, 'EUR', '€0.00'],
  [-250, 'EUR', '-€2.50'],
])('%d minor units of %s', (minor, currency, said) => {
  expect(money(minor, currency).replace(/\u00a0/g, ' ')).toBe(said)
})

it.each([
  ['480', 'EUR', 48000],
  ['480,5', 'EUR', 48050],
  ['480.50', 'EUR', 48050],
  ['1.10', 'EUR', 110],
  ['18 500,50', 'EUR', 1850050],
  ['1\u00a0250\u202f000', 'EUR', 125000000],
  ['500', 'JPY', 500],
  ['1.234', 'KWD', 1234],
])('%s %s as typed is %d minor units', (raw, currency, minor) => {
  expect(minorOf(raw, currency)).toEqual({ ok: true, value: minor })
  expect(minorOf(typed(minor, currency), currency)).toEqual({ ok: true, value: minor })
})

it.each([
  ['480.505', 'EUR'],
  ['1.5', 'JPY'],
  ['-3', 'EUR'],
  ['', 'EUR'],
  ['18,500', 'EUR'], // eighteen and a half, or eighteen thousand: nobody can tell
  ['18 50', 'EUR'],
  ['ten', 'EUR'],
])('%s is no amount in %s', (raw, currency) => {
  expect(minorOf(raw, currency).ok).toBe(false)
})

// Worked by hand: 230 ‰ of 480.00 is 110.40; half a unit goes up: 230 ‰ of 0.50 is 11.5.
it('tax rounds half a unit up', () => {
  expect([taxOf(48000, 230), taxOf(50, 230), taxOf(0, 230)]).toEqual([11040, 12, 0])
})
