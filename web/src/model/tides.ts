import { instantOf } from './dates'

/** A high water as a table or a file gives it. */
export interface HighWater {
  at: string
  /** Above chart datum, mm; null where the table has none. */
  heightMm: number | null
}

export interface TideSheet {
  waters: HighWater[]
  /** Lines that hold no high water, by their number, with what is wrong. */
  faults: { line: number; text: string }[]
}

/** "4.3" or "4,3" metres. */
function metresOf(text: string): number | null {
  const found = /^(-?\d{1,2})(?:[.,](\d{1,3}))?\s*m?$/.exec(text.trim())
  if (!found) return null
  const part = (found[2] ?? '').padEnd(3, '0')
  const mm = Math.abs(Number(found[1])) * 1000 + Number(part)
  return text.trim().startsWith('-') ? -mm : mm
}

/** "2026-10-14" of 2026-10-14, 14.10.2026 or 14/10/2026: the day comes first where the year does not. */
function dayOfText(text: string): string | null {
  const iso = /^(\d{4})-(\d{1,2})-(\d{1,2})$/.exec(text)
  const own = /^(\d{1,2})[./](\d{1,2})[./](\d{4})$/.exec(text)
  const [y, m, d] = iso ? [iso[1], iso[2], iso[3]] : own ? [own[3], own[2], own[1]] : []
  if (!y || !m || !d) return null
  const day = `${y}-${m.padStart(2, '0')}-${d.padStart(2, '0')}`
  const real = new Date(`${day}T00:00:00Z`)
  return Number.isNaN(real.getTime()) || real.toISOString().slice(0, 10) !== day ? null : day
}

/** The cells of a line, parted by semicolons or tabs, by commas, or by spaces. */
function cellsOf(line: string): string[] {
  const part = /[;\t]/.test(line) ? /\s*[;\t]\s*/ : /,\s|,\d{1,2}:/.test(line) ? /\s*,\s*/ : /\s+/
  return line.split(part).map((cell) => cell.replace(/^"|"$/g, '').trim())
}

/** The instant of the first cells and the cell that may hold a height; or what is wrong. */
function whenOf(
  [first = '', second = '', third = '']: string[],
  zone: string,
): { at: string; height: string } | string {
  if (/^\d{4}-\d{2}-\d{2}T.*(Z|[+-]\d{2}:?\d{2})$/.test(first)) {
    const at = Date.parse(first)
    return Number.isNaN(at) ? `“${first}” is no time` : { at: new Date(at).toISOString(), height: second }
  }
  const day = dayOfText(first)
  const time = /^(\d{1,2})[:.](\d{2})(?::\d{2})?$/.exec(second)
  if (!day) return `“${first}” is no day`
  if (!time || Number(time[1]) > 23 || Number(time[2]) > 59) return `“${second}” is no time of day`
  return { at: instantOf(day, `${time[1]}:${time[2]}`, zone), height: third }
}

/**
 * Reads a table of high waters: a day, a time and, if there is one, a height in metres on each line, parted by
 * semicolons, tabs, commas with a point for decimals, or spaces. Times are those of the given zone, unless a line
 * gives one instant with its offset. A first line of heads is passed over; good lines are kept, bad ones named.
 */
export function readTides(text: string, zone: string): TideSheet {
  const sheet: TideSheet = { waters: [], faults: [] }
  for (const [i, raw] of text
    .replace(/^\uFEFF/, '')
    .split(/\r?\n/)
    .entries()) {
    const line = raw.trim()
    if (!line) continue
    const when = whenOf(cellsOf(line), zone)
    if (typeof when === 'string') {
      if (i > 0) sheet.faults.push({ line: i + 1, text: when })
      continue
    }
    const heightMm = metresOf(when.height)
    if (when.height && heightMm === null)
      sheet.faults.push({ line: i + 1, text: `“${when.height}” is no height in metres` })
    else sheet.waters.push({ at: when.at, heightMm })
  }
  return sheet
}
