/** Numbers as surveyors type them: comma or point, any dash for a minus, no thousands. */

/** Tenths of a scale unit, always whole. */
export type Tenths = number

export type Parsed<T> = { ok: true; value: T } | { ok: false; why: string }

const minus = /^[-−–‐]/

/**
 * One number with at most one decimal, as tenths: "35,3" and "35.3" are 353, "35" is 350.
 * Two decimals are refused rather than rounded: a scale is read to a tenth at the finest.
 */
export function parseTenths(raw: string): Parsed<Tenths> {
  const text = raw.trim().replace(minus, '-')
  const match = /^(-?)(\d{1,6})(?:[.,](\d+))?$/.exec(text)
  if (!match) return { ok: false, why: `“${raw.trim()}” is not a number` }
  const [, sign, whole = '0', decimals = ''] = match
  if (decimals.length > 1) return { ok: false, why: `${raw.trim()}: one decimal at most` }
  const size = Number(whole) * 10 + Number(decimals || 0)
  return { ok: true, value: sign ? -size : size }
}

/** A quantity with up to `decimals` decimals, for fields other than readings (temperature, metres). */
export function parseQuantity(raw: string, decimals = 3): Parsed<number> {
  const text = raw.trim().replace(minus, '-').replace(',', '.')
  if (!/^-?(\d+(\.\d*)?|\.\d+)$/.test(text)) return { ok: false, why: `“${raw.trim()}” is not a number` }
  const shown = text.split('.')[1]?.length ?? 0
  if (shown > decimals) return { ok: false, why: decimals ? `${decimals} decimals at most` : 'whole numbers only' }
  return { ok: true, value: Number(text) }
}

/** A whole number between two others; nothing typed is none, and not 0. */
export function wholeBetween(raw: string, least: number, most: number): Parsed<number> {
  const read = parseQuantity(raw, 0)
  return read.ok && (read.value < least || read.value > most) ? { ok: false, why: `${least} to ${most}` } : read
}

/** 353 as "35.3"; a real minus sign. */
export function tenths(value: Tenths): string {
  return `${value < 0 ? '−' : ''}${(Math.abs(value) / 10).toFixed(1)}`
}

/** A difference always carries its sign: "+23.3", "−0.4", "±0.0". */
export function signed(value: Tenths): string {
  const sign = value > 0 ? '+' : value < 0 ? '−' : '±'
  return `${sign}${(Math.abs(value) / 10).toFixed(1)}`
}

/** Twice a value in tenths, as it is shown: "35.3", or "35.35" where two placements fell either side. */
export function halves(twice: number): string {
  return twice % 2 === 0 ? tenths(twice / 2) : `${twice < 0 ? '−' : ''}${(Math.abs(twice) / 20).toFixed(2)}`
}
