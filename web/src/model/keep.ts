import { type Cell, parseCell, type Scale } from './cell'
import { flag } from './history'
import { tenths } from './number'
import type { PlanPlace } from './walk'

/** A place of the plan with the ordinal by which the service knows it. */
export interface GridPlace extends PlanPlace {
  ordinal: number
}

/** What the service holds of a pass, in columns: slot k for the place of ordinal k + 1. */
export interface Entries {
  ids: readonly (string | null)[]
  placements: readonly (readonly number[] | null)[]
  flags: readonly (number | null)[]
  written: readonly (string | null)[]
}
export interface NotReached {
  place: number
  reason: string
}

/** The text each place would have been typed as, so that what is held and what is typed compare as text. */
export function heldTexts(
  places: readonly GridPlace[],
  entries: Entries,
  gaps: readonly NotReached[],
): Record<string, string> {
  const out: Record<string, string> = {}
  for (const { id, ordinal } of places) {
    const slot = ordinal - 1
    const gap = gaps.find(({ place }) => place === ordinal)
    const placements = entries.placements[slot]
    const flags = entries.flags[slot] ?? 0
    if (entries.ids[slot]) {
      const body = entries.written[slot] || (placements ?? []).map(tenths).join(' ')
      out[id] = flags & flag.void ? `x ${body}` : body + (flags & flag.follow ? ' !' : '')
    } else if (gap) out[id] = `n ${gap.reason}`
  }
  return out
}

/** One reading to be sent for the first time. */
export interface NewReading {
  ordinal: number
  placements: number[] | null
  written: string | null
  follow: boolean
}
export interface Correction {
  ordinal: number
  reading: string
  placements: number[] | null
  written: string | null
}
/** Everything that differs between what is typed and what is held, by what has to be done about it. */
export interface Work {
  fresh: NewReading[]
  corrections: Correction[]
  voids: { ordinal: number; reading: string; reason: string }[]
  unread: { ordinal: number; reason: string }[]
  reached: number[]
  followOn: number[]
  followOff: number[]
  /** Typed and not understood: stays in the grid. */
  wrong: { place: string; why: string }[]
  /** Emptied, though the service holds a reading: that takes a reason, so it is not done by emptying. */
  emptied: string[]
}

export const workCount = (work: Work) =>
  work.fresh.length + work.corrections.length + work.voids.length + work.unread.length

export function workOf(
  places: readonly GridPlace[],
  typed: Readonly<Record<string, string>>,
  held: Readonly<Record<string, string>>,
  entries: Entries,
  scale: Scale,
): Work {
  const work: Work = {
    fresh: [],
    corrections: [],
    voids: [],
    unread: [],
    reached: [],
    followOn: [],
    followOff: [],
    wrong: [],
    emptied: [],
  }
  for (const place of places) {
    const now = typed[place.id] ?? ''
    const was = held[place.id] ?? ''
    if (now === was) continue
    const reading = entries.ids[place.ordinal - 1] ?? null
    sort(work, place, parseCell(now, scale), now, was, reading, scale)
  }
  return work
}

function sort(
  work: Work,
  place: GridPlace,
  cell: Cell,
  now: string,
  was: string,
  reading: string | null,
  scale: Scale,
) {
  const { ordinal } = place
  switch (cell.kind) {
    case 'wrong':
      work.wrong.push({ place: place.id, why: cell.why })
      return
    case 'empty':
      if (reading) work.emptied.push(place.id)
      else work.reached.push(ordinal)
      return
    case 'unread':
      if (reading) work.voids.push({ ordinal, reading, reason: `not reached: ${cell.reason}` })
      else work.unread.push({ ordinal, reason: cell.reason })
      return
    case 'void':
      if (reading) work.voids.push({ ordinal, reading, reason: cell.reason })
      else work.unread.push({ ordinal, reason: `void: ${cell.reason}` })
      return
  }
  const before = parseCell(was, scale)
  const body = {
    placements: cell.limit ? null : [...cell.placements],
    written: cell.limit ? now.replace(/\s*!$/, '').trim() : null,
  }
  if (!reading) {
    if (before.kind === 'unread') work.reached.push(ordinal)
    work.fresh.push({ ordinal, ...body, follow: cell.follow })
    return
  }
  const same =
    before.kind === 'read' &&
    JSON.stringify([before.placements, before.limit]) === JSON.stringify([cell.placements, cell.limit])
  if (!same) work.corrections.push({ ordinal, reading, ...body })
  const followed = before.kind === 'read' && before.follow
  if (cell.follow && !followed) work.followOn.push(ordinal)
  if (!cell.follow && followed) work.followOff.push(ordinal)
}

/** A batch of new readings as it goes out, in columns of one length; it keeps its ids until it is answered. */
export interface Batch {
  places: readonly (number | null)[]
  placements: readonly (readonly number[] | null)[]
  written?: readonly (string | null)[] | null
  followUp?: readonly (number | null)[] | null
}

/**
 * New readings that have yet to be made up into a batch: not those of one that waits for its answer, nor those that
 * were answered and that this page does not show yet. Sent with other ids they would be kept as repeats.
 */
export function unsent(
  fresh: readonly NewReading[],
  waiting: readonly Batch[],
  answered: ReadonlySet<number>,
): NewReading[] {
  const out = new Set(waiting.flatMap(({ places }) => places))
  return fresh.filter(({ ordinal }) => !out.has(ordinal) && !answered.has(ordinal))
}

/** The places of which a batch says what is typed now; of any other the typing is newer, and stays. */
export function asTyped({ places, placements, written, followUp }: Batch, fresh: readonly NewReading[]): number[] {
  const text = (values: readonly number[] | null | undefined) => JSON.stringify(values ?? null)
  return fresh.flatMap((now) => {
    const k = places.indexOf(now.ordinal)
    const same =
      k >= 0 &&
      text(now.placements) === text(placements[k]) &&
      (now.written ?? '') === (written?.[k] ?? '') &&
      now.follow === Boolean(followUp?.[k])
    return same ? [now.ordinal] : []
  })
}

/** Readings in columns of one length, at most 200 in a batch. */
export function batches<T>(list: readonly T[], size = 200): T[][] {
  const out: T[][] = []
  for (let i = 0; i < list.length; i += size) out.push(list.slice(i, i + size))
  return out
}

/** Places of a plan from the axis of a pass, by ordinal, the plan's dry places marked. */
export function gridPlaces(
  axis: {
    ids: readonly (string | null)[]
    labels: readonly (string | null)[]
    sides: readonly (string | null)[]
    stations: readonly (number | null)[]
    rows: readonly (number | null)[]
    along: readonly (number | null)[]
    down: readonly (number | null)[]
  },
  plan: { places: readonly (number | null)[]; dry: readonly (number | null)[] },
): GridPlace[] {
  const dry = new Set(plan.dry)
  return plan.places.flatMap((ordinal) => {
    if (ordinal === null) return []
    const k = ordinal - 1
    const id = axis.ids[k]
    if (!id) return []
    return [
      {
        id,
        ordinal,
        label: axis.labels[k] ?? '',
        side: (axis.sides[k] ?? 'port') as GridPlace['side'],
        station: axis.stations[k] ?? 0,
        row: axis.rows[k] ?? 0,
        along: axis.along[k] ?? 0,
        down: axis.down[k] ?? 0,
        baseline: dry.has(ordinal),
      },
    ]
  })
}
