import { medianOfPlacements } from '../measure/order'
import { halves, type Parsed, parseTenths, type Tenths, tenths } from './number'

/** The ends and the name of the scale a pass is read on. */
export interface Scale {
  /** In full, as every message names it: "Skerrow deep No. 2". */
  instrument: string
  least: Tenths
  most: Tenths
}

/** One end of a scale, or two marks a needle swung between, kept as written. */
export type Limit = { flag: 'below' | 'above'; at: Tenths } | { flag: 'range'; from: Tenths; to: Tenths }

export type Cell =
  | { kind: 'empty' }
  | { kind: 'read'; placements: Tenths[]; limit: null; follow: boolean }
  | { kind: 'read'; placements: []; limit: Limit; follow: boolean }
  | { kind: 'unread'; reason: string }
  | { kind: 'void'; reason: string }
  | { kind: 'wrong'; why: string }

export const mostPlacements = 5

/**
 * What a cell of the entry grid says.
 *
 *   35,3            one placement
 *   35,3 35,8 35,1  placements, parted by spaces, "/" or ";"; one to five
 *   <5   >100       below or above a mark of the scale
 *   15–20           a range as written, any dash
 *   35.3 !          follow up inside
 *   n prop pad      not reached, and why
 *   x pads rocked   void, and why
 *
 * Numbers beyond the scale are refused with its ends named; limits are evidence and are kept.
 */
export function parseCell(text: string, scale: Scale): Cell {
  const said = text.trim()
  if (said === '') return { kind: 'empty' }
  const gap = /^(n|nr|not reached|x|void)(?:[\s:,]+(.*))?$/i.exec(said)
  if (gap) {
    const kind = /^n/i.test(gap[1] ?? '') ? 'unread' : 'void'
    const reason = (gap[2] ?? '').trim()
    if (!reason)
      return {
        kind: 'wrong',
        why: kind === 'unread' ? 'say why it was not reached: n prop pad' : 'say why it is void: x pads rocked',
      }
    return { kind, reason }
  }
  const follow = said.endsWith('!')
  const body = follow ? said.slice(0, -1).trim() : said
  const limit = parseLimit(body, scale)
  if (limit)
    return limit.ok ? { kind: 'read', placements: [], limit: limit.value, follow } : { kind: 'wrong', why: limit.why }
  const placements: Tenths[] = []
  for (const part of body.split(/[\s;/]+/).filter(Boolean)) {
    const number = within(part, scale)
    if (!number.ok) return { kind: 'wrong', why: number.why }
    placements.push(number.value)
  }
  if (placements.length === 0) return { kind: 'wrong', why: 'a mark to follow up, but no reading' }
  if (placements.length > mostPlacements)
    return { kind: 'wrong', why: `${placements.length} placements; five at most, the rest are repeats` }
  return { kind: 'read', placements, limit: null, follow }
}

function within(part: string, scale: Scale): Parsed<Tenths> {
  const number = parseTenths(part)
  if (!number.ok) return number
  if (number.value < scale.least || number.value > scale.most)
    return {
      ok: false,
      why: `${tenths(number.value)} is beyond the scale of ${scale.instrument}, ${tenths(scale.least)} to ${tenths(scale.most)}; where the needle stood at its end, write ${number.value > scale.most ? '>' : '<'}${tenths(number.value > scale.most ? scale.most : scale.least)}`,
    }
  return number
}

function parseLimit(body: string, scale: Scale): Parsed<Limit> | null {
  const end = /^([<>≤≥])\s*(.+)$/.exec(body)
  if (end) {
    const at = within(end[2] ?? '', scale)
    if (!at.ok) return at
    return { ok: true, value: { flag: /[<≤]/.test(end[1] ?? '') ? 'below' : 'above', at: at.value } }
  }
  const range = /^(\d[\d.,]*)\s*[-–—−]\s*(\d[\d.,]*)$/.exec(body)
  if (!range) return null
  const from = within(range[1] ?? '', scale)
  if (!from.ok) return from
  const to = within(range[2] ?? '', scale)
  if (!to.ok) return to
  if (from.value >= to.value) return { ok: false, why: `a range runs upwards: ${range[2]}–${range[1]}?` }
  return { ok: true, value: { flag: 'range', from: from.value, to: to.value } }
}

/** The figure a cell shows once left: the median of its placements, or the limit as written. */
export function shown(cell: Cell): string {
  if (cell.kind !== 'read') return ''
  if (!cell.limit) return halves(medianOfPlacements(cell.placements))
  const { limit } = cell
  if (limit.flag === 'range') return `${trim(limit.from)}–${trim(limit.to)}`
  return `${limit.flag === 'below' ? '<' : '>'}${trim(limit.at)}`
}
const trim = (value: Tenths) => tenths(value).replace(/\.0$/, '')
