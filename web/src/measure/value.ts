/**
 * A reading on a relative scale with its limit flag: the twin of domain/measure Value in Go. Everything in this
 * folder is a pure function of its arguments, and its tests read the same worked figures as Go does.
 */

/** Twentieths of a scale unit, whole: the median of an even number of placements falls half-way between tenths. */
export type Twentieth = number

/** An end of a scale is evidence and is carried by its place in the order; it is never a number beyond the scale. */
export type Value =
  | { limit: ''; at: Twentieth }
  /** Under the lower end, or over the upper one: `at` is the end that was met. */
  | { limit: 'below' | 'above'; at: Twentieth }
  /** As written, between low and high: `at` is half-way. */
  | { limit: 'range'; at: Twentieth; low: Twentieth; high: Twentieth }

export const exact = (at: Twentieth): Value => ({ limit: '', at })

/** 706 twentieths are 35.3 scale units. */
export const units = (t: Twentieth): number => t / 20

/** What the value is known to lie between, scale units; an infinity on the open side. */
export function bounds(v: Value): [low: number, high: number] {
  switch (v.limit) {
    case 'below':
      return [Number.NEGATIVE_INFINITY, units(v.at)]
    case 'above':
      return [units(v.at), Number.POSITIVE_INFINITY]
    case 'range':
      return [units(v.low), units(v.high)]
    default:
      return [units(v.at), units(v.at)]
  }
}

/**
 * Reads what was written for one value: "35,3", "<5", "> 99.5", "15–20" with any dash. null for anything else, also
 * for a range that does not run upwards and for a number that is no whole twentieth of a unit.
 */
export function parseWritten(text: string): Value | null {
  const end = /^([<>≤≥])\s*(.+)$/.exec(text.trim())
  if (end) {
    const at = twentieths(end[2] ?? '')
    return at === null ? null : { limit: /[<≤]/.test(end[1] ?? '') ? 'below' : 'above', at }
  }
  const range = /^(\d[\d.,]*)\s*[-–—−]\s*(\d[\d.,]*)$/.exec(text.trim())
  if (range) {
    const [low, high] = [twentieths(range[1] ?? ''), twentieths(range[2] ?? '')]
    if (low === null || high === null || low >= high) return null
    return { limit: 'range', at: Math.floor((low + high) / 2), low, high }
  }
  const at = twentieths(text)
  return at === null ? null : exact(at)
}

function twentieths(text: string): Twentieth | null {
  const match = /^([-−–]?)(\d{1,6})(?:[.,](\d{1,2}))?$/.exec(text.trim())
  if (!match) return null
  const [, sign, whole = '0', decimals = ''] = match
  const hundredths = Number(whole) * 100 + Number(decimals.padEnd(2, '0'))
  if (hundredths % 5 !== 0) return null
  return (sign ? -hundredths : hundredths) / 5 || 0
}

/** As it is written out: "35.3", "35.35" where two placements fell either side, "<5", "15–20". */
export function shown(v: Value): string {
  if (v.limit === 'range') return `${short(v.low)}–${short(v.high)}`
  if (v.limit) return `${v.limit === 'below' ? '<' : '>'}${short(v.at)}`
  return full(v.at)
}

const full = (t: Twentieth) => `${t < 0 ? '−' : ''}${units(Math.abs(t)).toFixed(t % 2 === 0 ? 1 : 2)}`
const short = (t: Twentieth) => full(t).replace(/\.0$/, '')
