import { parseCell, type Scale } from './cell'
import type { Block, PlanPlace } from './walk'

export interface Pasted {
  /** Every cell that met a place, good or wrong, as text; wrong ones are marked in the grid. */
  entries: [place: string, text: string][]
  good: number
  wrong: { place: string; text: string; why: string }[]
  /** What met no place of the plan: beyond the hull, or beyond the grid. */
  outside: { line: number; column: number; text: string }[]
}

/** A spreadsheet's clipboard: lines, tabs between cells, quotes round cells that hold either. */
export function clipboardCells(text: string): string[][] {
  const lines: string[][] = [[]]
  let cell = ''
  let quoted = false
  const body = text.replace(/\r\n?/g, '\n').replace(/\n$/, '')
  for (let i = 0; i < body.length; i++) {
    const c = body[i]
    if (quoted) {
      if (c === '"' && body[i + 1] === '"') cell += body[++i]
      else if (c === '"') quoted = false
      else cell += c
    } else if (c === '"' && cell === '') quoted = true
    else if (c === '\t' || c === '\n') {
      lines.at(-1)?.push(cell)
      cell = ''
      if (c === '\n') lines.push([])
    } else cell += c
  }
  lines.at(-1)?.push(cell)
  return lines
}

/**
 * Lays a block of cells over the grid with its first cell on `from`. Empty cells of the block leave what
 * stands there. Good cells are kept, bad ones are marked with the reason; the caller writes all of it as
 * one step, so that one undo takes one paste back.
 */
export function paste<P extends PlanPlace>(block: Block<P>, from: P, text: string, scale: Scale): Pasted {
  const out: Pasted = { entries: [], good: 0, wrong: [], outside: [] }
  const line0 = block.lines.findIndex(({ station }) => station === from.station)
  const column0 = block.rows.indexOf(from.row)
  clipboardCells(text).forEach((cells, i) => {
    cells.forEach((raw, j) => {
      const said = raw.replace(/\s+/g, ' ').trim()
      if (said === '') return
      const place = block.lines[line0 + i]?.cells[column0 + j]
      if (!place) {
        out.outside.push({ line: i + 1, column: j + 1, text: said })
        return
      }
      const cell = parseCell(said, scale)
      out.entries.push([place.id, said])
      if (cell.kind === 'wrong') out.wrong.push({ place: place.id, text: said, why: cell.why })
      else out.good++
    })
  })
  return out
}

/** What a paste did, in one sentence. */
export function pastedSaid({ good, wrong, outside }: Pasted): string {
  const parts = [`${good} kept`]
  if (wrong.length) parts.push(`${wrong.length} marked wrong, with the reason beside each`)
  if (outside.length) parts.push(`${outside.length} fell where the hull has no place, and were left out`)
  return `Pasted: ${parts.join('; ')}.`
}
