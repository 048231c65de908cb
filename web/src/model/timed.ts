import { instantOf } from './dates'

/** A line of a table that begins with a time; or what is wrong with it. */
export type TimedLine = { line: number; at: string; rest: string[] } | { line: number; fault: string }

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

/** The instant of the first cells and the cells behind it; or what is wrong. */
function whenOf(cells: string[], zone: string): { at: string; rest: string[] } | string {
  const [first = '', second = ''] = cells
  if (/^\d{4}-\d{2}-\d{2}T.*(Z|[+-]\d{2}:?\d{2})$/.test(first)) {
    const at = Date.parse(first)
    return Number.isNaN(at) ? `“${first}” is no time` : { at: new Date(at).toISOString(), rest: cells.slice(1) }
  }
  const day = dayOfText(first)
  const time = /^(\d{1,2})[:.](\d{2})(?::\d{2})?$/.exec(second)
  if (!day) return `“${first}” is no day`
  if (!time || Number(time[1]) > 23 || Number(time[2]) > 59) return `“${second}” is no time of day`
  return { at: instantOf(day, `${time[1]}:${time[2]}`, zone), rest: cells.slice(2) }
}

/**
 * Reads lines that begin with a day and a time, parted by semicolons, tabs, commas with a point for decimals, or
 * spaces. Times are those of the given zone, unless a line gives one instant with its offset. A first line of heads
 * is passed over.
 */
export function timedLines(text: string, zone: string): TimedLine[] {
  const out: TimedLine[] = []
  for (const [i, raw] of text
    .replace(/^\uFEFF/, '')
    .split(/\r?\n/)
    .entries()) {
    const line = raw.trim()
    if (!line) continue
    const when = whenOf(cellsOf(line), zone)
    if (typeof when !== 'string') out.push({ line: i + 1, ...when })
    else if (i > 0) out.push({ line: i + 1, fault: when })
  }
  return out
}
