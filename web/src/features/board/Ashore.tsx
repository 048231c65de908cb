import { Link } from 'react-router'
import type { BoardSpellRowFragment } from '../../graphql/gen/graphql'
import { daysFrom, reachOf, spanOf, stack } from '../../model/board'
import { dayIn, dayMonth, dayNumber, timeIn, zoneName } from '../../model/dates'
import { plural } from '../../model/words'
import { draggable, useActs } from './acts'
import s from './board.module.css'
import { Cell } from './Cell'
import type { BoardData } from './useBoard'

const lifted = (spell: BoardSpellRowFragment) => spell.actualLift ?? spell.plannedLift
const launched = (spell: BoardSpellRowFragment) => spell.actualLaunch ?? spell.plannedLaunch

/** What a bar says of a time ashore. */
function barWords(spell: BoardSpellRowFragment, before: boolean, after: boolean, today: string): string {
  const [lift, launch, zone] = [lifted(spell), launched(spell), spell.timeZone]
  const since = lift ? dayNumber(today) - dayNumber(dayIn(lift, zone)) : -1
  return [
    lift && (before ? `since ${dayMonth(dayIn(lift, zone))}` : `lift ${timeIn(lift, zone)}`),
    spell.held,
    spell.washAt && !spell.washedAt && `wash ${dayMonth(dayIn(spell.washAt, zone))}, ${timeIn(spell.washAt, zone)}`,
    before && since >= 0 && `${plural(since, 'day')} today`,
    launch && (after ? `launch ${dayMonth(dayIn(launch, zone))}` : `launch ${timeIn(launch, zone)}`),
    spell.askedOnly && !spell.actualLift && 'asked of the yard',
  ]
    .filter(Boolean)
    .join(' · ')
}

/** A yard with its boats as bars: a thick end where a lift or a launch falls, dashed where they run on. */
export function YardLane({
  id,
  name,
  zone,
  spells,
  board,
  first,
  days,
  today,
  children,
}: {
  id: string | null
  name: string
  zone: string
  spells: readonly BoardSpellRowFragment[]
  board: BoardData
  first: string
  days: number
  today: string
  children?: React.ReactNode
}) {
  const acts = useActs()
  const bars = spells.flatMap((spell) => {
    const bar = spanOf(lifted(spell), launched(spell), first, spell.timeZone, days)
    if (!bar) return []
    const words = barWords(spell, bar.before, bar.after, today)
    return [{ spell, bar, words, span: reachOf(bar, spell.vesselName.length + words.length, days) }]
  })
  const lines = stack(bars)
  const height = 14 + 30 * Math.max(1, lines.length)
  return (
    <section className={s.lane} aria-label={name}>
      <h3>
        {id ? <Link to={`/yards/${id}`}>{name}</Link> : name}
        <span>
          {plural(bars.length, 'boat')}
          {zone && zone !== board.timeZone && ` · ${zoneName(zone)} time`}
        </span>
      </h3>
      <div className={s.bars} style={{ '--h': `${height}px` } as React.CSSProperties}>
        {daysFrom(first, days).map((day, i) => (
          <Cell
            key={day}
            there={{ day }}
            takes={(taken) => taken.what === 'lift'}
            className={s.under}
            style={{ '--a': i } as React.CSSProperties}
          />
        ))}
        {lines.flatMap((line, i) =>
          line.map(({ spell, bar, words, span: { beside } }) => {
            const movable = acts.may && !spell.actualLift
            return (
              <div
                key={spell.id}
                className={[
                  s.spell,
                  bar.before ? s.on : s.from,
                  bar.after ? s.off : s.to,
                  spell.askedOnly && !spell.actualLift && s.asked,
                  beside && s.brief,
                  beside === 'left' && s.left,
                ]
                  .filter(Boolean)
                  .join(' ')}
                style={{ '--a': bar.from, '--b': bar.to, '--y': `${6 + i * 30}px` } as React.CSSProperties}
                title={`${spell.vesselName}: ${words}`}
                {...(movable ? draggable(acts, { what: 'lift', spell: spell.id }) : {})}
              >
                <span>
                  <Link to={`/haul-outs/${spell.id}`} draggable={false}>
                    <b>{spell.vesselName}</b>
                  </Link>{' '}
                  {words}
                </span>
                {movable && (
                  <button
                    type="button"
                    className={`quiet ${s.mover}`}
                    aria-label={`Move the lift of ${spell.vesselName}`}
                    onClick={() => acts.put({ what: 'lift', spell: spell.id })}
                  >
                    Move…
                  </button>
                )}
              </div>
            )
          }),
        )}
      </div>
      {children}
    </section>
  )
}

export interface YardOfBoard {
  id: string | null
  name: string
  zone: string
  spells: readonly BoardSpellRowFragment[]
}

/** The yards that have a boat in the span, by name; times ashore whose yard nobody named stand last. */
export function yardsOf(board: BoardData, first: string, days: number): YardOfBoard[] {
  const seen = board.spells.filter((spell) => spanOf(lifted(spell), launched(spell), first, spell.timeZone, days))
  const yards: YardOfBoard[] = board.yards.map(({ yard, timeZone }) => ({
    id: yard.id,
    name: yard.name,
    zone: timeZone,
    spells: seen.filter((spell) => spell.yard === yard.id),
  }))
  const nowhere = seen.filter((spell) => !spell.yard)
  if (nowhere.length) yards.push({ id: null, name: 'Yard not stated', zone: '', spells: nowhere })
  return yards.filter(({ spells }) => spells.length > 0)
}
