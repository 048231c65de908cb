import { dayMonth, shortDay } from './dates'
import { plural } from './words'

/** A window counted from a visit: months and days to its first and last day. */
export interface Span {
  fromMonths: number
  fromDays: number
  toMonths: number
  toDays: number
}

function length(months: number, days: number): string {
  return [months && plural(months, 'month'), days && plural(days, 'day')].filter(Boolean).join(' and ') || 'at once'
}

/** "after 6 to 12 months", "7 to 14 days", "at once"; of a guarantee, "3 months before it ends". */
export function spanWords(span: Span, guarantee = false): string {
  const from = length(span.fromMonths, span.fromDays)
  if (guarantee) return `${from} before it ends`
  const to = length(span.toMonths, span.toDays)
  if (from === to) return from === 'at once' ? from : `after ${from}`
  return `after ${from} to ${to}`
}

/** A span as it is typed: "6-12 m", "7-14 d", "24 m"; null where it cannot be read. */
export function parseSpan(text: string): Span | null {
  const found = /^\s*(\d{1,4})\s*(?:(?:-|–|to)\s*(\d{1,4}))?\s*(m|months?|d|days?)\s*$/i.exec(text)
  if (!found) return null
  const from = Number(found[1])
  const to = found[2] === undefined ? from : Number(found[2])
  if (to < from) return null
  return found[3]?.toLowerCase().startsWith('m')
    ? { fromMonths: from, fromDays: 0, toMonths: to, toDays: 0 }
    : { fromMonths: 0, fromDays: from, toMonths: 0, toDays: to }
}

/** The text that parseSpan reads back. */
export function spanText(span: Span): string {
  const months = span.fromMonths > 0 || span.toMonths > 0
  const [from, to] = months ? [span.fromMonths, span.toMonths] : [span.fromDays, span.toDays]
  return `${from === to ? from : `${from}-${to}`} ${months ? 'm' : 'd'}`
}

/** A window in the words of the list; one that waits for an event has no last day. */
export function windowWords(r: { dueFrom: string; dueTo: string; waitsFor: string }): string {
  if (r.waitsFor === 'launch') return 'before she is launched'
  if (r.waitsFor === 'access') return 'when access or consent is given'
  if (r.dueFrom === r.dueTo) return shortDay(r.dueTo)
  return r.dueFrom.slice(0, 4) === r.dueTo.slice(0, 4)
    ? `${dayMonth(r.dueFrom)} to ${shortDay(r.dueTo)}`
    : `${shortDay(r.dueFrom)} to ${shortDay(r.dueTo)}`
}
