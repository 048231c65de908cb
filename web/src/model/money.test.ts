import { expect, it } from 'vitest'
import { money } from './money'

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
