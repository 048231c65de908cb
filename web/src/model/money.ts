/**
 * Whole minor units of a currency as an amount: 12345 EUR is €123.45, 500 JPY is ¥500. How many minor units
 * make one is the currency's own, ISO 4217, as the browser's Intl knows it.
 */
export function money(minor: number, currency: string): string {
  const form = new Intl.NumberFormat('en-GB', { style: 'currency', currency })
  const digits = form.resolvedOptions().maximumFractionDigits ?? 2
  return form.format(minor / 10 ** digits)
}
