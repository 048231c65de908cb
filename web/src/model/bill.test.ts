import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { signedMinor, sums } from './bill'

it.each([
  ['123,45', 'EUR', 12345],
  ['−5', 'EUR', -500],
  ['-0.29', 'EUR', -29],
])('%s %s is %d minor units', (raw, currency, minor) => {
  expect(signedMinor(raw, currency)).toEqual({ ok: true, value: minor })
})

// The cases of domain/practice/money_test.go: 12345 at 23 % is 2839.35, and back again.
it('rounds halves away from zero, line by line', () => {
  expect(sums([{ hundredths: 100, priceMinor: 12345, taxPermille: 230 }])).toEqual({ net: 12345, tax: 2839 })
  expect(sums([{ hundredths: 100, priceMinor: -12345, taxPermille: 230 }])).toEqual({ net: -12345, tax: -2839 })
  expect(sums([{ hundredths: 4450, priceMinor: 55, taxPermille: 0 }])).toEqual({ net: 2448, tax: 0 })
})

// The service's own list is from memory; Intl is a library of others.
it('knows the decimals of a currency as the service does', () => {
  const source = readFileSync(new URL('../../../domain/practice/bookkeeping.go', import.meta.url), 'utf8')
  const body = /var minorDigits = [^{]*\{([^}]*)\}/.exec(source)?.[1] ?? ''
  const list = [...body.matchAll(/"([A-Z]{3})": (\d)/g)]
  expect(list.length).toBeGreaterThan(20)
  for (const [, currency = '', digits] of list) {
    const form = new Intl.NumberFormat('en-GB', { style: 'currency', currency })
    expect([currency, form.resolvedOptions().maximumFractionDigits]).toEqual([currency, Number(digits)])
  }
})
