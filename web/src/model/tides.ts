import { timedLines } from './timed'

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

/**
 * Reads a table of high waters: a day, a time and, if there is one, a height in metres on each line; good lines are
 * kept, bad ones named.
 */
export function readTides(text: string, zone: string): TideSheet {
  const sheet: TideSheet = { waters: [], faults: [] }
  for (const read of timedLines(text, zone)) {
    if ('fault' in read) {
      sheet.faults.push({ line: read.line, text: read.fault })
      continue
    }
    const height = read.rest[0] ?? ''
    const heightMm = metresOf(height)
    if (height && heightMm === null) sheet.faults.push({ line: read.line, text: `“${height}” is no height in metres` })
    else sheet.waters.push({ at: read.at, heightMm })
  }
  return sheet
}
