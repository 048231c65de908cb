import { dayIn, dayNumber, dayOf, timeIn } from './dates'

/** Bars and boxes of one week, in days from its first midnight; half-open, cut to the week. */
export interface Span {
  from: number
  to: number
  /** It runs on beyond the week on that side. */
  before: boolean
  after: boolean
}

/** Where an instant lies in a week that begins on `monday`, in days of the given zone. */
export function dayOffset(instant: string, monday: string, zone: string): number {
  const [h = 0, m = 0] = timeIn(instant, zone).split(':').map(Number)
  return dayNumber(dayIn(instant, zone)) - dayNumber(monday) + (h * 60 + m) / 1440
}

/** The part of [from, to) that lies in a week; null where none does. An open end runs on. */
export function spanOf(
  from: string | null | undefined,
  to: string | null | undefined,
  monday: string,
  zone: string,
): Span | null {
  const a = from ? dayOffset(from, monday, zone) : Number.NEGATIVE_INFINITY
  const b = to ? dayOffset(to, monday, zone) : Number.POSITIVE_INFINITY
  if (b <= 0 || a >= 7 || b <= a) return null
  return { from: Math.max(0, a), to: Math.min(7, b), before: a < 0, after: b > 7 }
}

/** Lays spans on as few lines as will hold them without overlap, in order of their beginning. */
export function stack<T extends { span: Span }>(items: readonly T[]): T[][] {
  const lines: T[][] = []
  for (const item of [...items].sort((a, b) => a.span.from - b.span.from || b.span.to - a.span.to)) {
    const line = lines.find((each) => (each.at(-1)?.span.to ?? 0) <= item.span.from)
    if (line) line.push(item)
    else lines.push([item])
  }
  return lines
}

export interface Booked {
  id: string
  lead: string | null
  from: string
  to: string
}

/** Pairs of visits that ask one surveyor to be in two places: half-open, so that one may begin as another ends. */
export function clashes(visits: readonly Booked[]): [Booked, Booked][] {
  const out: [Booked, Booked][] = []
  const sorted = [...visits].sort((a, b) => a.from.localeCompare(b.from))
  sorted.forEach((a, i) => {
    for (const b of sorted.slice(i + 1))
      if (a.lead && a.lead === b.lead && a.from < b.to && b.from < a.to) out.push([a, b])
  })
  return out
}

export function weekDays(monday: string): string[] {
  return Array.from({ length: 7 }, (_, i) => dayOf(dayNumber(monday) + i))
}
