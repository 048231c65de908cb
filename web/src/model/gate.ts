import { type Column, type FigureReading, nameOf, type Spot, signedUnits, signedWhole } from './history'
import type { Statement } from './statements'

/**
 * What the service says of two passes, as it comes over the wire, and the words and marks that screens give it.
 * Nothing here judges: a verdict, its figures and its sentences are the service's own.
 */
export type Answer = 'cannotTell' | 'noChangeShown' | 'changed'

export interface Band {
  value: number
  low?: number | null
  high?: number | null
}

export interface Untold {
  code: string
  text: string
  /** What to do to find out; empty where nothing helps. */
  todo: string
  places: number
}

export interface Verdict {
  answer: Answer
  places: number
  difference?: Band | null
  least?: number | null
  untold: readonly Untold[]
}

export interface Zone {
  name: string
  slots: Column
  verdict: Verdict
}

export interface Explanation {
  code: string
  text: string
  expected?: Band | null
  covers?: boolean | null
}

export interface Sentence {
  code: string
  claim: string
  runs: readonly string[]
  slots: Column
  figures: readonly { code: string; value: number; low?: number | null; high?: number | null; unit: string }[]
}

export interface Gate {
  earlier: string
  later: string
  hull: Verdict
  zones: readonly Zone[]
  /** 0 cannot tell, 1 no change shown, 2 changed; null where there is nothing to judge. */
  verdicts: Column
  differences: Column
  lows: Column
  highs: Column
  leasts: Column
  whys: readonly (string | null)[]
  comparable: number
  ofPlaces: number
  dryPlaces: number
  leastChange?: number | null
  explained: readonly Explanation[]
  untold: readonly Untold[]
  statements: readonly Sentence[]
}

export type Said = 'up' | 'down' | 'none' | 'untold'

export const saidWord = {
  up: 'changed, higher',
  down: 'changed, lower',
  none: 'no change shown',
  untold: 'cannot tell',
} as const satisfies Record<Said, string>

export function saidOf({ answer, difference }: Pick<Verdict, 'answer' | 'difference'>): Said {
  if (answer === 'noChangeShown') return 'none'
  if (answer === 'cannotTell' || !difference) return 'untold'
  return difference.value < 0 ? 'down' : 'up'
}

/** The verdict at one place; figures in twentieths, null where there are none. */
export interface PlaceVerdict {
  said: Said
  by: number | null
  low: number | null
  high: number | null
  least: number | null
  /** Why it cannot be told, in words; empty where it can. */
  why: string
}

/** Null at dry places and where neither pass read the place. */
export function verdictAt(gate: Gate, slot: number): PlaceVerdict | null {
  const answer = gate.verdicts[slot] ?? null
  if (answer === null) return null
  const by = gate.differences[slot] ?? null
  const code = gate.whys[slot] ?? ''
  return {
    said: answer === 1 ? 'none' : answer === 2 && by !== null ? (by < 0 ? 'down' : 'up') : 'untold',
    by,
    low: gate.lows[slot] ?? null,
    high: gate.highs[slot] ?? null,
    least: gate.leasts[slot] ?? null,
    why: code && (gate.untold.find((untold) => untold.code === code)?.text ?? code),
  }
}

/** Two passes on the hull, one taken from the other: what the service says at each place, and by how much. */
export function figureChange(all: readonly Spot[], gate: Gate): FigureReading[] {
  return all.flatMap((spot) => {
    const told = verdictAt(gate, spot.slot)
    if (!told) return []
    return [
      {
        id: spot.id,
        name: nameOf(spot),
        side: spot.side,
        along: spot.along,
        down: spot.down,
        step: -1,
        said: told.said,
        ...(told.by === null ? {} : { by: signedWhole(told.by) }),
      },
    ]
  })
}

/** Whether anything could be told at any place. */
export const tells = (gate: Gate) => gate.verdicts.some((answer) => answer === 1 || answer === 2)

const ends = (low: string, high: string) => ` (${low} to ${high})`

/** "+1.5 (−0.3 to +3.2)" of figures in scale units; an open end is said so. */
export function bandWords({ value, low, high }: Band): string {
  const end = (x: number | null | undefined, open: string) => (x == null ? open : signedUnits(20 * x))
  const known = low != null || high != null
  return signedUnits(20 * value) + (known ? ends(end(low, 'no less known'), end(high, 'no more known')) : '')
}

/** The same of a place, from twentieths. */
export function placeWords({ by, low, high }: PlaceVerdict): string {
  if (by === null) return ''
  const scaled = (x: number | null) => (x === null ? null : x / 20)
  return bandWords({ value: by / 20, low: scaled(low), high: scaled(high) })
}

/** Scale units to a tenth, without a sign. */
export const plainUnits = (x: number) => x.toFixed(1)

const marks: Record<string, Statement['mark']> = {
  measured: 'above',
  seen: 'finding',
  'not shown': 'none',
  untold: 'untold',
  bounded: 'window',
  modelled: 'watch',
  'to do': 'further',
  'not looked': 'unread',
  quoted: 'quoted',
  caution: 'record',
}

/** A sentence of the service as the page sets it: its mark, its figures in words, the places it speaks of. */
export function setOut({ code, claim, runs, slots, figures }: Sentence): Statement {
  const places = slots.filter((slot): slot is number => slot !== null)
  const way = figures.find((figure) => figure.code === 'difference')?.value
  // Where every place was reached the sentence says so itself.
  const words = figures.filter(({ code, value }) => !(code === 'not-reached' && value === 0)).map(figureWords)
  return {
    code,
    mark: claim === 'compared' && way !== undefined ? (way < 0 ? 'down' : 'up') : (marks[claim] ?? 'record'),
    runs: [...runs],
    proof: proofOf(words, places.length),
    slots: places,
    figures: words,
  }
}

/** Sentences about the hull at large; the page sets the others of the gate behind them or after them. */
const heads = ['at-large', 'explained-by']
/** What was compared with what, what the visit itself did, what a difference is not. */
const basis = ['change-basis', 'visit-taken-out', 'compared-of', 'two-visits']

/** The gate as the page says it: each proof with its sentence, the least change of the hull beside its difference. */
export function gateSays(gate: Gate): Statement[] {
  const of = (codes: readonly string[]) => gate.statements.filter(({ code }) => codes.includes(code))
  const head = of(heads)[0] ?? gate.statements[0]
  const areas = of(['areas-changed'])[0]
  const folded = [...(head ? of(basis) : []), ...(areas ? of(['changed-at']) : [])]
  return gate.statements
    .filter((sentence) => !folded.includes(sentence))
    .map((sentence) => {
      const said = setOut(sentence)
      if (sentence === head) return atLarge(said, gate, of(basis))
      if (sentence === areas)
        return { ...said, mark: markOf(gate, said), proof: of(['changed-at']).map(textOf).join(' ') }
      return said
    })
}

function atLarge(said: Statement, { hull, comparable, ofPlaces }: Gate, behind: readonly Sentence[]): Statement {
  const least = hull.least == null ? [] : [{ name: 'least change shown', value: plainUnits(hull.least) }]
  const figures = [...said.figures, ...least]
  return {
    ...said,
    figures,
    proof: [`${comparable} of ${ofPlaces} places`, ...figures.map(({ name, value }) => `${name} ${value}`)].join('; '),
    behind: behind.map(textOf),
  }
}

/** Which way most of the changed places went. */
function markOf({ differences }: Gate, { mark, slots }: Statement): Statement['mark'] {
  if (mark !== 'record') return mark
  return slots.reduce((sum, slot) => sum + (differences[slot] ?? 0), 0) < 0 ? 'down' : 'up'
}

const textOf = ({ runs }: Sentence) => runs.join('')

const names: Record<string, string> = {
  least: 'least change shown',
  bound: 'at most',
  smallest: 'smallest flaw met nine times in ten',
  place: 'at one place',
  hull: 'over the hull at large',
  floor: 'no lower than',
  visits: 'like visits',
  visit: 'the visit itself',
  p: 'by chance alone',
}
/** Units that are counted, and said to the whole. */
const counted = ['places', 'visits', 'days', 'mm']

function figureWords({ code, value, low, high, unit }: Sentence['figures'][number]) {
  const name = names[code] ?? code.replaceAll('-', ' ')
  if (code === 'difference' || code === 'visit') return { name, value: bandWords({ value, low, high }) }
  const number = value.toFixed(counted.includes(unit) ? 0 : unit === 'p' ? 3 : 1)
  const said = unit === 'scale units' || unit === code ? number : `${number} ${unit}`
  return { name, value: said.replace(/^1 places$/, '1 place') }
}

function proofOf(figures: { name: string; value: string }[], places: number): string {
  const said = figures.map(({ name, value }) => `${name} ${value}`)
  if (places > 0 && !said.some((text) => text.startsWith('not reached')))
    said.unshift(places === 1 ? '1 place' : `${places} places`)
  return said.join('; ')
}

/** The zones with the hull at large before them, as a table says them. */
export function zoneRows(gate: Gate): Zone[] {
  const all = gate.verdicts.flatMap((answer, slot) => (answer === null ? [] : [slot]))
  return [{ name: 'the hull at large', slots: all, verdict: gate.hull }, ...gate.zones]
}

/** Ids of the places of a list of slots. */
export const idsOf = (spots: readonly Spot[], slots: Column) =>
  slots.flatMap((slot) => (slot === null ? [] : (spots[slot]?.id ?? [])))
