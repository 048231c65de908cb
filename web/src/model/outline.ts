import type { Parsed } from './number'
import { parseQuantity } from './number'

/** A corner on the skin: whole millimetres forward of the aft perpendicular, and down from the waterline mark. */
export type Corner = [along: number, down: number]
export type Side = 'port' | 'starboard' | 'centre'

export interface Outline {
  side: Side | null
  corners: Corner[]
}

export const noOutline: Outline = { side: null, corners: [] }

/** What came over the wire. */
export function outlineOf(side: Side | null | undefined, corners: unknown): Outline {
  const list = Array.isArray(corners) ? (corners as Corner[]) : []
  return list.length > 0 && side ? { side, corners: list } : noOutline
}

/** "port 4.5 0.6; 5 0.6": a side, then corners in metres forward and down. */
export function writeOutline({ side, corners }: Outline): string {
  const m = (mm: number) => String(mm / 1000)
  return side ? `${side} ${corners.map(([along, down]) => `${m(along)} ${m(down)}`).join('; ')}` : ''
}

export function parseOutline(raw: string): Parsed<Outline> {
  const text = raw.trim().toLowerCase()
  if (!text) return { ok: true, value: noOutline }
  const [, word = '', rest = ''] = /^([a-z]*)\s*(.*)$/s.exec(text) ?? []
  const side = (['port', 'starboard', 'centre'] as const).find((each) => each === word)
  if (!side) return { ok: false, why: 'Begin with the side: port, starboard or centre.' }
  const corners: Corner[] = []
  for (const corner of rest.split(/[;\n]/).filter((part) => part.trim())) {
    const figures = corner
      .trim()
      .split(/\s+/)
      .map((word) => parseQuantity(word))
    const [along, down] = figures
    if (figures.length !== 2 || !along?.ok || !down?.ok)
      return { ok: false, why: `“${corner.trim()}” is no corner. Write metres forward, then metres down: 4.5 0.6` }
    corners.push([Math.round(along.value * 1000), Math.round(down.value * 1000)])
  }
  if (corners.length < 3) return { ok: false, why: 'An outline has three corners at least.' }
  return { ok: true, value: { side, corners } }
}

/** "port, 4.5 to 5 m forward, 0.6 to 0.9 m down" */
export function sayOutline({ side, corners }: Outline): string {
  if (!side) return ''
  const span = (at: 0 | 1) => {
    const all = corners.map((corner) => corner[at] / 1000)
    return `${Math.min(...all)} to ${Math.max(...all)} m`
  }
  return `${side}, ${span(0)} forward, ${span(1)} down`
}

/** The middle of it, metres. */
export function middleOf({ corners }: Outline): [along: number, down: number] {
  const mid = (at: 0 | 1) => {
    const all = corners.map((corner) => corner[at])
    return (Math.min(...all) + Math.max(...all)) / 2000
  }
  return [mid(0), mid(1)]
}
