import { Link } from 'react-router'
import { Mark } from '../../figure/marks'
import type { BoardSpellRowFragment } from '../../graphql/gen/graphql'
import { touches } from '../../model/board'
import { dayIn, shortDay, timeIn, zoneName } from '../../model/dates'
import { Stands } from '../moves/Stands'
import { useActs } from './acts'
import s from './board.module.css'
import type { BoardData } from './useBoard'
import { visitWords } from './VisitBox'

/** One day as a list: what is lifted and launched, who goes where, who is away, the tides. */
export function DayList({ board, day }: { board: BoardData; day: string }) {
  const acts = useActs()
  const visits = board.visits.filter((visit) => touches(visit, day))
  const yardWork = board.spells.flatMap((spell) => workOn(spell, day)).sort((a, b) => (a.at < b.at ? -1 : 1))
  const away = board.leaves.filter((leave) => touches({ ...leave, timeZone: board.timeZone }, day))
  const tides = board.tides.filter(({ highAt }) => dayIn(highAt, board.timeZone) === day)
  return (
    <div className={s.day}>
      <section>
        <h2>Visits</h2>
        {visits.length === 0 ? (
          <p className={`note ${s.first}`}>Nobody goes anywhere.</p>
        ) : (
          <ol className={s.list}>
            {visits.map((visit) =>
              visit.open ? (
                <li key={visit.id}>
                  <span className={s.hour}>{timeIn(visit.from, visit.timeZone)}</span>
                  <div>
                    <Link to={`/visits/${visit.id}`}>
                      <b>{visit.vesselName}</b>
                    </Link>{' '}
                    {visit.kind === 'wet look' && <Mark kind="look" />}
                    <span className="note">{visitWords(visit, board, { who: true })}</span>
                    {visit.instruments.length > 0 && (
                      <p className="small note">{visit.instruments.map(board.instrumentName).join(', ')}</p>
                    )}
                    <Stands checks={visit.checks} />
                    {acts.may && visit.state === 'planned' && (
                      <button
                        type="button"
                        className={`quiet ${s.placer}`}
                        aria-label={`Move to…, ${visit.vesselName}, ${visit.kind}`}
                        onClick={() => acts.put({ what: 'visit', visit })}
                      >
                        Move to…
                      </button>
                    )}
                  </div>
                </li>
              ) : (
                <li key={visit.id}>
                  <span className={s.hour}>{timeIn(visit.from, visit.timeZone)}</span>
                  <span className="note">{board.memberName(visit.lead)} is taken: another job</span>
                </li>
              ),
            )}
          </ol>
        )}
      </section>
      <section>
        <h2>At the yards</h2>
        {yardWork.length === 0 ? (
          <p className={`note ${s.first}`}>No crane is planned.</p>
        ) : (
          <ol className={s.list}>
            {yardWork.map(({ spell, what, at, movable }) => (
              <li key={spell.id + what}>
                <span className={s.hour}>{timeIn(at, spell.timeZone)}</span>
                <div>
                  <Link to={`/haul-outs/${spell.id}`}>
                    <b>{spell.vesselName}</b>
                  </Link>{' '}
                  {what}
                  <span className="note">
                    {[
                      '',
                      board.yardName(spell.yard),
                      spell.held,
                      spell.askedOnly && !spell.actualLift && 'asked of the yard',
                      spell.timeZone !== board.timeZone && `${zoneName(spell.timeZone)} time`,
                    ]
                      .filter((word, i) => i === 0 || word)
                      .join(' · ')}
                  </span>
                  {acts.may && movable && (
                    <button
                      type="button"
                      className={`quiet ${s.placer}`}
                      aria-label={`Move the ${movable} of ${spell.vesselName}`}
                      onClick={() => acts.put({ what: movable, spell: spell.id })}
                    >
                      Move…
                    </button>
                  )}
                </div>
              </li>
            ))}
          </ol>
        )}
        {tides.length > 0 && (
          <p className="small note" style={{ paddingTop: 6 }}>
            {`High water ${tides.map(({ highAt, place }) => `${timeIn(highAt, board.timeZone)} ${place}`).join(', ')}; source: ${[...new Set(tides.map(({ source }) => source))].join(', ')}.`}
          </p>
        )}
      </section>
      {away.length > 0 && (
        <section>
          <h2>Away</h2>
          <ul className={s.list}>
            {away.map((leave) => (
              <li key={leave.id}>
                <b>{board.memberName(leave.member)}</b>
                <span className="note">
                  {leave.reason && `${leave.reason}, `}until {shortDay(dayIn(leave.to, board.timeZone))}
                </span>
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  )
}

interface Work {
  spell: BoardSpellRowFragment
  what: string
  at: string
  movable?: 'lift' | 'wash' | undefined
}

/** What a yard does with a boat on a day. */
function workOn(spell: BoardSpellRowFragment, day: string): Work[] {
  const all: [string, string | null | undefined, Work['movable']?][] = [
    spell.actualLift ? ['lifted', spell.actualLift] : ['lift', spell.plannedLift, 'lift'],
    spell.washedAt ? ['washed', spell.washedAt] : ['wash', spell.washAt, 'wash'],
    ['chocks', spell.chockAt],
    ['move within the yard', spell.shiftAt],
    spell.actualLaunch ? ['launched', spell.actualLaunch] : ['launch', spell.plannedLaunch],
  ]
  return all.flatMap(([what, at, movable]) =>
    at && dayIn(at, spell.timeZone) === day ? [{ spell, what, at, movable }] : [],
  )
}
