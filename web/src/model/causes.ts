/** How a ledger of causes is laid out: what is pointed at, what is merely live, what is excluded. */

export type State = 'confirmed' | 'likely' | 'points' | 'live' | 'excluded'

export const stateWords: Record<State, string> = {
  confirmed: 'confirmed',
  likely: 'likely',
  points: 'points towards',
  live: 'live',
  excluded: 'excluded',
}

export interface Entry {
  state: State
  for: readonly unknown[]
  against: readonly unknown[]
}

export interface Laid<E> {
  /** Something points towards these. */
  pointed: E[]
  /** Live, and nothing points towards them. */
  idle: E[]
  excluded: E[]
}

/** Sorts a ledger's entries, which come ranked, into the parts of the page. */
export function lay<E extends Entry>(entries: readonly E[]): Laid<E> {
  const laid: Laid<E> = { pointed: [], idle: [], excluded: [] }
  for (const entry of entries) {
    if (entry.state === 'excluded') laid.excluded.push(entry)
    else if (entry.state === 'live') laid.idle.push(entry)
    else laid.pointed.push(entry)
  }
  return laid
}

/** "port 12/2, 12/3" of ordinals; "6 places" and so on where there are more than `most`. */
export function placesSaid(
  places: readonly (number | null)[],
  axis: { labels: readonly (string | null)[]; sides: readonly (string | null)[] },
  most = 6,
): string {
  if (places.length === 0) return ''
  if (places.length > most) return `${places.length} places`
  let side = ''
  return places
    .map((ordinal) => {
      const k = (ordinal ?? 1) - 1
      const now = axis.sides[k] ?? ''
      const label = axis.labels[k] ?? ''
      const said = now === side ? label : `${now} ${label}`
      side = now
      return said
    })
    .join(', ')
}

/** A time of work in words. */
export function workTime(minutes: number): string {
  if (minutes < 60) return `${minutes} min`
  const rest = minutes % 60
  return rest ? `${Math.floor(minutes / 60)} h ${rest} min` : `${minutes / 60} h`
}

export const patternWords: Record<string, string> = {
  'surface-water': 'as surface water goes',
  'normal-drying': 'as ordinary drying goes',
  stalled: 'flat on both where a fall was due',
  'something-behind': 'deep stays while the rest falls',
  'nothing-shown': 'no pattern shown',
  'cannot-tell': 'cannot be told',
}
