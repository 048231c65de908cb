import { minorOf } from './money'
import type { Parsed } from './number'

/** An amount as typed, also one below zero, in whole minor units: a deposit is taken off, a payment goes back. */
export function signedMinor(raw: string, currency: string): Parsed<number> {
  const text = raw.trim()
  const below = /^[-−–]/.test(text)
  const read = minorOf(below ? text.slice(1) : text, currency)
  return read.ok && below ? { ok: true, value: -read.value } : read
}

/** A part of an amount, halves away from zero: what is taken back is exactly what was asked for. */
export function portion(amount: number, part: number, of: number): number {
  return amount < 0 ? -portion(-amount, part, of) : Math.floor((amount * part + of / 2) / of)
}

interface Line {
  hundredths: number
  priceMinor: number
  taxPermille: number
}

/** What lines come to, worked out as the service does: tax line by line. */
export function sums(lines: readonly Line[]): { net: number; tax: number } {
  let net = 0
  let tax = 0
  for (const line of lines) {
    const own = portion(line.priceMinor, line.hundredths, 100)
    net += own
    tax += portion(own, line.taxPermille, 1000)
  }
  return { net, tax }
}
