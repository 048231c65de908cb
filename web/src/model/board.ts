import { dayIn, dayNumber, dayOf, timeIn } from './dates'

/** Bars of one span of days, in days from its first midnight; half-open, cut to the span. */
export interface Span {
  from: number
  to: number
  /** It runs on beyond the span on that side. */
  before: boolean
  after: boolean
}

/** Where an instant lies in a span that begins on a day, in days of the given zone. */
export function dayOffset(instant: string, first: string, zone: string): number {
  const [h = 0, m = 0] = timeIn(instant, zone).split(':').map(Number)
  return dayNumber(dayIn(instant, zone)) - dayNumber(first) + (h * 60 + m) / 1440
}

/** The part of [from, to) that lies in so many days from the first; null where none does. An open end runs on. */
export function spanOf(
  from: string | null | undefined,
  to: string | null | undefined,
  first: string,
  zone: string,
  days = 7,
): Span | null {
  const a = from ? dayOffset(from, first, zone) : Number.NEGATIVE_INFINITY
  const b = to ? dayOffset(to, first, zone) : Number.POSITIVE_INFINITY
  if (b <= 0 || a >= days || b <= a) return null
  return { from: Math.max(0, a), to: Math.min(days, b), before: a < 0, after: b > days }
}

/** Small letters that fit across the narrowest board: a week's lanes are seen at a desk alone, a season's on a phone too. */
const lettersAcross = (days: number) => (days > 7 ? 135 : 170)

/** The side of a bar that its words stand on, and how far it reaches with them. */
export interface Reach {
  beside: 'right' | 'left' | null
  from: number
  to: number
}

/** A bar too short for its words has them at its right; at its left where the board ends before they do. */
export function reachOf({ from, to }: Span, letters: number, days: number): Reach {
  if (to - from >= 0.09 * days) return { beside: null, from, to }
  const words = (letters / lettersAcross(days)) * days
  return to + words <= days || from - words < 0
    ? { beside: 'right', from, to: Math.min(days, to + words) }
    : { beside: 'left', from: from - words, to }
}

/** Lays spans on as few lines as will hold them without overlap, in order of their beginning. */
export function stack<T extends { span: Pick<Span, 'from' | 'to'> }>(items: readonly T[]): T[][] {
  const lines: T[][] = []
  for (const item of [...items].sort((a, b) => a.span.from - b.span.from || b.span.to - a.span.to)) {
    const line = lines.find((each) => (each.at(-1)?.span.to ?? 0) <= item.span.from)
    if (line) line.push(item)
    else lines.push([item])
  }
  return lines
}

/** So many days from one on. */
export function daysFrom(first: string, count: number): string[] {
  return Array.from({ length: count }, (_, i) => dayOf(dayNumber(first) + i))
}

export function weekDays(monday: string): string[] {
  return daysFrom(monday, 7)
}

interface Timed {
  from: string
  to: string
  timeZone: string
}

/**
 * The days of a visit in the zone of its yard: at the date line that is another day than the practice's. One that
 * ends at midnight does not touch the day after.
 */
export function touches(visit: Timed, day: string): boolean {
  const last = dayIn(Date.parse(visit.to) - 1, visit.timeZone)
  return dayIn(visit.from, visit.timeZone) <= day && day <= last
}

/** "09:00 to 12:00", with the days where it is more than one. */
export function hoursOf({ from, to, timeZone }: Timed): string {
  const [a, b] = [dayIn(from, timeZone), dayIn(to, timeZone)]
  const end = timeIn(to, timeZone)
  return `${timeIn(from, timeZone)} to ${a === b ? end : `${Number(b.slice(8))}., ${end}`}`
}

/** Whole days ashore at an instant, in the yard's zone; null before the lift. */
export function daysAshoreAt(lift: string | null | undefined, at: string, zone: string): number | null {
  if (!lift) return null
  const days = dayNumber(dayIn(at, zone)) - dayNumber(dayIn(lift, zone))
  return days < 0 ? null : days
}
