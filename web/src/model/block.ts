import { type Parsed, parseTenths, type Tenths, tenths } from './number'
import { clipboardCells } from './paste'

/** A block of readings typed spot by spot: a kit (a column for each person’s repeats) or two instruments side by side. */
export interface BlockColumn {
  key: string
  /** Who or what reads in it; columns of one group stand together. */
  group: string
  /** Within its group: "1", "2", "3", or empty where the group has one column. */
  head: string
  scale: { name: string; least: Tenths; most: Tenths }
}

/** Texts as typed, by `row:column`. */
export type BlockCells = Readonly<Record<string, string>>

export const at = (row: number, column: number) => `${row}:${column}`

/** What a cell says: nothing, a reading off the ends of its scale, or why it is none. */
export function readCell(text: string, { scale }: BlockColumn): { empty: true } | ({ empty: false } & Parsed<Tenths>) {
  if (text.trim() === '') return { empty: true }
  const number = parseTenths(text)
  if (!number.ok) return { empty: false, ...number }
  if (number.value <= scale.least || number.value >= scale.most)
    return {
      empty: false,
      ok: false,
      why: `${tenths(number.value)} is at or beyond the end of the scale of ${scale.name}, ${tenths(scale.least)} to ${tenths(scale.most)}: take another spot`,
    }
  return { empty: false, ...number }
}

/** The order of work: one hand finishes its spots before the next; within a spot, its repeats. */
export function order(
  rows: number,
  columns: readonly BlockColumn[],
  together: boolean,
): [row: number, column: number][] {
  const groups = together ? [columns.map((_, k) => k)] : grouped(columns)
  return groups.flatMap((group) =>
    Array.from({ length: rows }, (_, row) => group.map((column): [number, number] => [row, column])).flat(),
  )
}

function grouped(columns: readonly BlockColumn[]): number[][] {
  const out: number[][] = []
  columns.forEach(({ group }, k) => {
    const last = out.at(-1)
    if (last && columns[last[0] ?? 0]?.group === group) last.push(k)
    else out.push([k])
  })
  return out
}

/** Lays a spreadsheet’s block with its first cell on `row`, `column`; empty cells leave what stands there. */
export function pasteBlock(
  cells: BlockCells,
  [row, column]: readonly [number, number],
  text: string,
  rows: number,
  columns: number,
): { cells: BlockCells; put: number; outside: number } {
  const next: Record<string, string> = { ...cells }
  let put = 0
  let outside = 0
  clipboardCells(text).forEach((line, i) => {
    line.forEach((raw, j) => {
      const said = raw.replace(/\s+/g, ' ').trim()
      if (said === '') return
      if (row + i >= rows || column + j >= columns) outside++
      else {
        next[at(row + i, column + j)] = said
        put++
      }
    })
  })
  return { cells: next, put, outside }
}

export interface BlockRead {
  /** Column by column, row by row; null where nothing was typed. */
  columns: (Tenths | null)[][]
  wrong: { row: number; column: number; why: string }[]
  filled: number
}

/** All cells as tenths, with what is wrong of them. */
export function readBlock(cells: BlockCells, rows: number, columns: readonly BlockColumn[]): BlockRead {
  const out: BlockRead = { columns: [], wrong: [], filled: 0 }
  columns.forEach((column, c) => {
    out.columns.push(
      Array.from({ length: rows }, (_, row) => {
        const cell = readCell(cells[at(row, c)] ?? '', column)
        if (cell.empty) return null
        if (!cell.ok) {
          out.wrong.push({ row, column: c, why: cell.why })
          return null
        }
        out.filled++
        return cell.value
      }),
    )
  })
  return out
}

/** Columns of a kit, hand by hand and repeat by repeat, as the service takes them: hand, spot, repeat. */
export function kitTenths(columns: readonly (Tenths | null)[][], hands: number, repeats: number, spots: number) {
  const out: (Tenths | null)[] = []
  for (let hand = 0; hand < hands; hand++)
    for (let spot = 0; spot < spots; spot++)
      for (let repeat = 0; repeat < repeats; repeat++) out.push(columns[hand * repeats + repeat]?.[spot] ?? null)
  return out
}

/** The other way round, to put a kit right that was kept. */
export function kitCells(
  hands: readonly (readonly (Tenths | null)[] | null | undefined)[],
  repeats: number,
): BlockCells {
  const cells: Record<string, string> = {}
  hands.forEach((own, hand) => {
    own?.forEach((value, k) => {
      if (value !== null) cells[at(Math.floor(k / repeats), hand * repeats + (k % repeats))] = tenths(value)
    })
  })
  return cells
}

/** Who read a kit, and how often each of them. */
export interface Hands {
  hands: readonly string[]
  repeats: number
}

/** Texts of a kit where its hands or repeats change: each stays with whoever read it, and those of who goes go too. */
export function regroup(cells: BlockCells, before: Hands, after: Hands): BlockCells {
  const out: Record<string, string> = {}
  for (const [key, text] of Object.entries(cells)) {
    const [row = 0, column = 0] = key.split(':').map(Number)
    const hand = after.hands.indexOf(before.hands[Math.floor(column / before.repeats)] ?? '')
    const repeat = column % before.repeats
    if (hand >= 0 && repeat < after.repeats) out[at(row, hand * after.repeats + repeat)] = text
  }
  return out
}

/** A path of edits: what stands now, what stood before, what was taken back. */
export interface Trail {
  now: BlockCells
  past: readonly BlockCells[]
  ahead: readonly BlockCells[]
}
export const begin = (now: BlockCells): Trail => ({ now, past: [], ahead: [] })
export const write = (trail: Trail, now: BlockCells): Trail => ({ now, past: [...trail.past, trail.now], ahead: [] })
export function undo(trail: Trail): Trail {
  const before = trail.past.at(-1)
  return before ? { now: before, past: trail.past.slice(0, -1), ahead: [trail.now, ...trail.ahead] } : trail
}
export function redo(trail: Trail): Trail {
  const [next, ...ahead] = trail.ahead
  return next ? { now: next, past: [...trail.past, trail.now], ahead } : trail
}
