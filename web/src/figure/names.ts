import type { Reading } from './options'
import type { Mode } from './plate'

/** A reading that knows what people call its place: port 13/3. */
export type NamedReading = Reading & { name?: string }

const said = { up: 'changed, higher', down: 'changed, lower', none: 'no change shown', untold: 'cannot tell' }
const gaps = { unread: 'not reached', void: 'void', due: 'still to be read' }

/** What a place is called aloud: where it is, what was read there, what may be said of it. */
export function spoken(q: NamedReading, mode: Mode): string {
  const where =
    q.name ??
    `${q.side}, ${q.along.toFixed(2)} m forward, ${Math.abs(q.down).toFixed(2)} m ${q.down < 0 ? 'up' : 'down'} the skin`
  const parts = [where, ...(mode === 'change' ? change(q) : figures(q))]
  if (q.follow) parts.push('follow up inside')
  return parts.join(', ')
}

function change(q: NamedReading): string[] {
  const word = said[q.gap ? 'untold' : (q.said ?? 'untold')]
  return q.by && !q.gap ? [word, `${q.by.replace('−', 'minus ').replace('±', '')}`] : [word]
}

function figures(q: NamedReading): string[] {
  if (q.gap) return [gaps[q.gap]]
  const step =
    q.step > 0 ? [`step ${q.step} above the dry baseline`] : q.step === 0 ? ['level with the dry baseline'] : []
  return [q.value ?? 'no figure', ...(q.dry ? ['dry place'] : step)]
}
