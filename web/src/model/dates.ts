/** Days and times in the words of the book: day first, months by name, the yard's own zone. */

const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']
const long = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
]

function parts(day: string): [year: number, month: number, day: number] {
  const [y = 0, m = 1, d = 1] = day.slice(0, 10).split('-').map(Number)
  return [y, m, d]
}

/** A calendar day as it is; of an instant, its day on this device. */
const said = (day: string) => parts(day.includes('T') ? dayIn(day, here()) : day)
/** The zone of this device. */
export const here = () => Intl.DateTimeFormat().resolvedOptions().timeZone

/** "14 Oct 2026" of a calendar day, 2026-10-14, or of an instant. */
export function shortDay(day: string): string {
  const [y, m, d] = said(day)
  return `${d} ${months[m - 1]} ${y}`
}
/** "14 October 2026". */
export function longDay(day: string): string {
  const [y, m, d] = said(day)
  return `${d} ${long[m - 1]} ${y}`
}
/** "Oct 2026". */
export function monthYear(day: string): string {
  const [y, m] = said(day)
  return `${months[m - 1]} ${y}`
}
/** "14 Oct", for days of this year or the next weeks. */
export function dayMonth(day: string): string {
  const [, m, d] = said(day)
  return `${d} ${months[m - 1]}`
}
/** "Wednesday 14 October". */
export function weekdayLong(day: string): string {
  const [y, m, d] = parts(day)
  const name = new Intl.DateTimeFormat('en-GB', { weekday: 'long', timeZone: 'UTC' }).format(Date.UTC(y, m - 1, d))
  return `${name} ${d} ${long[m - 1]}`
}

/** How far a visit's date is known; of an old report also as it has it. */
export interface Dated {
  datePrecision: string
  dateAsWritten: string
}
/** The date of a visit as far as it is known: “spring 2019”, "2019", "May 2019", or its day. */
export function visitDay(day: string, { datePrecision, dateAsWritten }: Dated, say = shortDay): string {
  if (dateAsWritten) return `“${dateAsWritten}”`
  if (datePrecision === 'year') return day.slice(0, 4)
  return datePrecision === 'month' ? monthYear(day) : say(day)
}
/** "14 Oct 2026, 09:00"; without the hour where the date is known less well. */
export function visitTime(visit: Dated & { from: string; timeZone: string }, say = shortDay): string {
  const day = visitDay(dayIn(visit.from, visit.timeZone), visit, say)
  return visit.datePrecision === 'instant' ? `${day}, ${timeIn(visit.from, visit.timeZone)}` : day
}

/** The calendar day of an instant in a zone, 2026-10-14. */
export function dayIn(instant: string | number | Date, timeZone: string): string {
  return new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }).format(
    new Date(instant),
  )
}
/** Whether a day is typed to its end: while its year is, that passes through 0002 and 0020. */
export function wholeDay(day: string | null): day is string {
  return day !== null && day >= '1900-01-01' && day < '2200'
}
/** "09:00" in a zone. */
export function timeIn(instant: string, timeZone: string): string {
  return new Intl.DateTimeFormat('en-GB', { timeZone, hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }).format(
    new Date(instant),
  )
}

/** The time of day on this device. */
export function clock(instant: string): string {
  return timeIn(instant, here())
}

/** Days since 1970 of a calendar day; differences are whole days. */
export function dayNumber(day: string): number {
  const [y, m, d] = parts(day)
  return Math.round(Date.UTC(y, m - 1, d) / 86_400_000)
}
export function dayOf(number: number): string {
  return new Date(number * 86_400_000).toISOString().slice(0, 10)
}
/** The Monday on or before a day. */
export function monday(day: string): string {
  const n = dayNumber(day)
  return dayOf(n - ((((n + 3) % 7) + 7) % 7))
}
/** ISO 8601 week number. */
export function weekOf(day: string): number {
  const thursday = dayNumber(monday(day)) + 3
  const year = parts(dayOf(thursday))[0]
  return 1 + Math.floor((thursday - dayNumber(`${year}-01-01`)) / 7)
}
/** The year of a day with its fraction, for a line of time. */
export function yearOf(day: string): number {
  const [y] = parts(day)
  const start = dayNumber(`${y}-01-01`)
  const end = dayNumber(`${y + 1}-01-01`)
  return y + (dayNumber(day) - start) / (end - start)
}

/** An instant as a form's local date and time in a zone, "2026-10-14T09:00". */
export function localIn(instant: string, timeZone: string): string {
  return `${dayIn(instant, timeZone)}T${timeIn(instant, timeZone)}`
}
/** The instant of a wall-clock time in a zone; of a time that occurs twice, the earlier. */
export function instantOf(day: string, time: string, timeZone: string): string {
  const [y, m, d] = parts(day)
  const [h = 0, min = 0] = time.split(':').map(Number)
  const wall = Date.UTC(y, m - 1, d, h, min)
  const shown = (at: number) => Date.parse(`${localIn(new Date(at).toISOString(), timeZone)}:00Z`)
  let at = wall
  for (let i = 0; i < 3 && shown(at) !== wall; i++) at += wall - shown(at)
  for (const back of [3_600_000, 1_800_000]) // clocks go back by an hour, on Lord Howe by half of one
    if (shown(at - back) === shown(at)) return new Date(at - back).toISOString()
  return new Date(at).toISOString()
}

/** "Wed 14 Oct, 09:00" of an instant in a zone. */
export function dayTime(instant: string, timeZone: string): string {
  return `${weekdayShort(dayIn(instant, timeZone))}, ${timeIn(instant, timeZone)}`
}
/** "Wed 14 Oct, 09:00 to 12:00" of a span in a zone; the day of its end where that is another. */
export function spanTime(from: string, to: string, timeZone: string, say = weekdayShort): string {
  const [a, b] = [dayIn(from, timeZone), dayIn(to, timeZone)]
  const end = timeIn(to, timeZone)
  return `${say(a)}, ${timeIn(from, timeZone)} to ${a === b ? end : `${say(b)}, ${end}`}`
}
/** "Wed 14 Oct". */
export function weekdayShort(day: string): string {
  const [y, m, d] = parts(day)
  const name = new Intl.DateTimeFormat('en-GB', { weekday: 'short', timeZone: 'UTC' }).format(Date.UTC(y, m - 1, d))
  return `${name} ${dayMonth(day)}`
}
/** A typed time of day as "09:00", also from 9.00 or 9; null where it is none. */
export function clockTime(typed: string): string | null {
  const found = /^\s*(\d{1,2})(?:[:.](\d{2}))?\s*$/.exec(typed)
  const [h, m] = [Number(found?.[1] ?? 99), Number(found?.[2] ?? 0)]
  return h < 24 && m < 60 ? `${String(h).padStart(2, '0')}:${String(m).padStart(2, '0')}` : null
}
/** "Lord Howe" of Australia/Lord_Howe. */
export function zoneName(timeZone: string): string {
  return (timeZone.split('/').at(-1) ?? timeZone).replaceAll('_', ' ')
}
