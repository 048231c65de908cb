import { timedLines } from './timed'

/** Air at a moment, as the service takes it. */
export interface AirRecord {
  at: string
  airDecidegrees: number
  humidityPermille: number
}

export interface AirSheet {
  records: AirRecord[]
  /** Lines that hold none, by their number, with what is wrong. */
  faults: { line: number; text: string }[]
}

/** Tenths of a typed figure, with its unit or without: "8,5", "−2 °C", "78 %". Undefined where it is no number. */
export function tenthsOf(text: string): number | undefined {
  const found = /^([-−–‐]?)(\d{1,3})(?:[.,](\d+))?\s*(?:°?\s*C|%(?:\s*RH)?)?$/i.exec(text.trim())
  if (!found) return undefined
  const size = Math.round(Number(`${found[2]}.${found[3] ?? 0}`) * 10)
  return found[1] && size !== 0 ? -size : size
}

/** What is wrong with a pair of figures; the bounds are the service's own. */
export function wrongAir(celsius: number | undefined, humidity: number | undefined): string | undefined {
  if (celsius === undefined || celsius < -450 || celsius > 800) return 'the air stands between −45 and 80 °C'
  if (humidity === undefined || humidity < 1 || humidity > 1000) return 'relative humidity lies above 0 and up to 100 %'
  return undefined
}

/** Reads a log of the air: a day, a time, °C and % RH on each line; good lines are kept, bad ones named. */
export function readAir(text: string, zone: string): AirSheet {
  const sheet: AirSheet = { records: [], faults: [] }
  for (const read of timedLines(text, zone)) {
    if ('fault' in read) {
      sheet.faults.push({ line: read.line, text: read.fault })
      continue
    }
    const [celsius, humidity] = [tenthsOf(read.rest[0] ?? ''), tenthsOf(read.rest[1] ?? '')]
    const wrong = wrongAir(celsius, humidity)
    if (wrong) sheet.faults.push({ line: read.line, text: wrong })
    else sheet.records.push({ at: read.at, airDecidegrees: celsius ?? 0, humidityPermille: humidity ?? 0 })
  }
  return sheet
}
