import { type Parsed, parseQuantity } from './number'

/**
 * Whole minor units of a currency as an amount: 12345 EUR is €123.45, 500 JPY is ¥500. How many minor units
 * make one is the currency's own, ISO 4217, as the browser's Intl knows it.
 */
export function money(minor: number, currency: string): string {
  const form = new Intl.NumberFormat('en-GB', { style: 'currency', currency })
  const digits = form.resolvedOptions().maximumFractionDigits ?? 2
  return form.format(minor / 10 ** digits)
}

/** How many decimals a currency's amounts have. */
const decimals = (currency: string): number =>
  new Intl.NumberFormat('en-GB', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ?? 2

/** Thousands set apart by spaces, as amounts are printed here. A point or a comma is the decimal's alone. */
const grouped = /^\s*\d{1,3}(\s\d{3})+([.,]\d+)?\s*$/

/** An amount as typed, "480", "480,50" or "18 500", in whole minor units of a currency; never rounded. */
export function minorOf(raw: string, currency: string): Parsed<number> {
  const digits = decimals(currency)
  const read = parseQuantity(grouped.test(raw) ? raw.replace(/\s/g, '') : raw, digits)
  if (!read.ok) return read
  if (read.value < 0) return { ok: false, why: 'an amount is 0 or more' }
  return { ok: true, value: Math.round(read.value * 10 ** digits) }
}

/** Minor units as they are typed: 48050 EUR as "480.50". */
export function typed(minor: number, currency: string): string {
  const digits = decimals(currency)
  return (minor / 10 ** digits).toFixed(digits)
}

/** A line's tax in minor units, half a unit rounded up: the rule of domain/practice QuoteLine.Tax. */
export function taxOf(minor: number, permille: number): number {
  return Math.floor((minor * permille + 500) / 1000)
}
