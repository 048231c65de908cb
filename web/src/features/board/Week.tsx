import type { BoardVisitRowFragment } from '../../graphql/gen/graphql'
import { touches, weekDays } from '../../model/board'
import { dayIn, shortDay, timeIn } from '../../model/dates'
import { celsius } from '../../model/words'
import { Stand } from '../moves/Stands'
import { YardLane, yardsOf } from './Ashore'
import { type Taken, useActs } from './acts'
import s from './board.module.css'
import { Cell } from './Cell'
import type { BoardData } from './useBoard'
import { softOf, VisitBox } from './VisitBox'

const takesVisit = (taken: Taken) => taken.what === 'job' || taken.what === 'visit'

/** One week as lanes of seven days: yards, those who make visits, instruments; or all of it by yard. */
export function Week({
  board,
  first,
  today,
  by,
}: {
  board: BoardData
  first: string
  today: string
  by: 'surveyor' | 'yard'
}) {
  const yards = yardsOf(board, first, 7)
  return (
    <section className={s.board} aria-label={by === 'yard' ? 'The week by yard' : 'The week by surveyor'}>
      <Days board={board} first={first} today={today} />
      {by === 'surveyor' ? (
        <>
          <h2 className={s.part}>Ashore</h2>
          {yards.length === 0 && <p className={s.nothing}>Nobody stands ashore this week.</p>}
          {yards.map((yard) => (
            <YardLane key={yard.id} {...yard} board={board} first={first} days={7} today={today} />
          ))}
          <h2 className={s.part}>Surveyors</h2>
          {board.surveyors.map(({ member, kinds }) => (
            <Lane
              key={member.id}
              name={member.name}
              note={member.roles.join(', ')}
              does={kinds.join(', ')}
              lead={member.id}
              visits={board.visits.filter(({ lead, people }) => lead === member.id || people.includes(member.id))}
              board={board}
              first={first}
            />
          ))}
          {board.visits.some(({ lead, people }) => !lead && people.length === 0) && (
            <Lane
              name="Nobody yet"
              note="visits without a surveyor"
              visits={board.visits.filter(({ lead, people }) => !lead && people.length === 0)}
              board={board}
              first={first}
            />
          )}
          <Instruments board={board} first={first} />
        </>
      ) : (
        <>
          {yards.length === 0 && <p className={s.nothing}>Nobody stands ashore this week.</p>}
          {yards.map((yard) => (
            <YardLane key={yard.id} {...yard} board={board} first={first} days={7} today={today}>
              <VisitRows
                visits={board.visits.filter((visit) => yard.spells.some(({ id }) => id === visit.spell))}
                board={board}
                first={first}
                who
              />
            </YardLane>
          ))}
          <section className={s.lane}>
            <h3>
              Elsewhere<span>afloat, or no time ashore</span>
            </h3>
            <VisitRows
              visits={board.visits.filter(({ spell, open }) => open && !spell)}
              board={board}
              first={first}
              who
            />
          </section>
        </>
      )}
    </section>
  )
}

/** The heads of the days, with high waters and what the weather was as far as they were entered. */
function Days({ board, first, today }: { board: BoardData; first: string; today: string }) {
  const zone = board.timeZone
  const sources = [...new Set(board.tides.map(({ source }) => source))]
  return (
    <>
      <div className={`${s.corner} small note`}>
        {board.tides.length > 0 ? (
          <span title={sources.join('; ')}>high water; source: {sources.join('; ')}</span>
        ) : (
          'yard times'
        )}
      </div>
      {weekDays(first).map((day) => {
        const tides = board.tides.filter(({ highAt }) => dayIn(highAt, zone) === day)
        const weather = board.weather.filter(({ at }) => dayIn(at, zone) === day)
        const air = weather.flatMap(({ airDecidegrees }) => airDecidegrees ?? [])
        const rain = weather.reduce((sum, { rainMm }) => sum + (rainMm ?? 0), 0)
        return (
          <div
            key={day}
            className={day === today ? `${s.dayhead} ${s.now}` : s.dayhead}
            aria-current={day === today ? 'date' : undefined}
          >
            {new Intl.DateTimeFormat('en-GB', { weekday: 'short', timeZone: 'UTC' }).format(new Date(day))}{' '}
            <b>{Number(day.slice(8))}</b>
            {tides.length > 0 && <span>{tides.map(({ highAt }) => timeIn(highAt, zone)).join(', ')}</span>}
            {(air.length > 0 || rain > 0) && (
              <span title={weather.map(({ place, source }) => `${place}: ${source}`).join('; ')}>
                {[air.length > 0 && celsius(Math.min(...air)), rain > 0 && `rain ${rain} mm`]
                  .filter(Boolean)
                  .join(', ')}
              </span>
            )}
          </div>
        )
      })}
    </>
  )
}

/** Somebody's week: visits on their days, leave, and below them what stands against each. */
function Lane({
  name,
  note,
  does,
  lead,
  visits,
  board,
  first,
}: {
  name: string
  note: string
  does?: string
  lead?: string
  visits: readonly BoardVisitRowFragment[]
  board: BoardData
  first: string
}) {
  const days = weekDays(first)
  const isAway = board.leaves.some(
    (leave) => leave.member === lead && days.some((day) => touches({ ...leave, timeZone: board.timeZone }, day)),
  )
  return (
    <section className={s.lane} aria-label={name} data-empty={(visits.length === 0 && !isAway) || undefined}>
      <h3>
        {name}
        <span title={does ? `does ${does}` : undefined}>{note}</span>
      </h3>
      <VisitRows visits={visits} board={board} first={first} {...(lead ? { lead } : {})} />
    </section>
  )
}

function VisitRows({
  visits,
  board,
  first,
  lead,
  who,
}: {
  visits: readonly BoardVisitRowFragment[]
  board: BoardData
  first: string
  lead?: string
  who?: boolean
}) {
  const days = weekDays(first)
  const stands = visits
    .filter(({ state, timeZone, from }) => state === 'planned' && days.includes(dayIn(from, timeZone)))
    .flatMap((visit) => softOf(visit).map((check) => ({ visit, check })))
  return (
    <div className={s.cells}>
      {days.map((day, i) => (
        <Cell key={day} there={{ day, lead }} takes={takesVisit} style={{ gridColumn: i + 1, gridRow: 1 }}>
          {visits
            .filter((visit) => touches(visit, day))
            .map((visit) => (
              <VisitBox key={visit.id} visit={visit} board={board} who={who ?? false} />
            ))}
          {lead && <Away lead={lead} day={day} board={board} />}
        </Cell>
      ))}
      {stands.map(({ visit, check }) => {
        const column = Math.min(4, days.indexOf(dayIn(visit.from, visit.timeZone)) + 1)
        return (
          <ul
            key={visit.id + check.code + check.text}
            className={s.said}
            style={{ gridColumn: `${column} / span ${8 - column}` }}
            aria-label={`${visit.vesselName}, ${visit.kind}`}
          >
            <Stand check={{ ...check, text: `${visit.vesselName}: ${check.text}` }} />
          </ul>
        )
      })}
    </div>
  )
}

function Away({ lead, day, board }: { lead: string; day: string; board: BoardData }) {
  return board.leaves
    .filter((leave) => leave.member === lead && touches({ ...leave, timeZone: board.timeZone }, day))
    .map((leave) => (
      <div key={leave.id} className={s.away}>
        <b>away</b> {leave.reason}
        {dayIn(leave.from, board.timeZone) === day && timeIn(leave.from, board.timeZone) !== '00:00' && (
          <> from {timeIn(leave.from, board.timeZone)}</>
        )}
        {dayIn(leave.to, board.timeZone) === day && <> until {timeIn(leave.to, board.timeZone)}</>}
      </div>
    ))
}

/** Where each instrument is: it cannot be in two yards. */
function Instruments({ board, first }: { board: BoardData; first: string }) {
  const { may } = useActs()
  const used = board.instruments.filter(
    ({ id, retiredOn }) =>
      (!retiredOn || retiredOn > first) && (board.visits.some(({ instruments }) => instruments.includes(id)) || may),
  )
  if (used.length === 0) return null
  return (
    <>
      <h2 className={s.part}>Instruments</h2>
      {used.map(({ id, name, retiredOn }) => (
        <section
          key={id}
          className={s.lane}
          aria-label={name}
          data-empty={!board.visits.some(({ instruments }) => instruments.includes(id)) || undefined}
        >
          <h3>
            {name}
            {retiredOn && <span>until {shortDay(retiredOn)}</span>}
          </h3>
          <div className={s.cells}>
            {weekDays(first).map((day, i) => (
              <div key={day} className={s.cell} style={{ gridColumn: i + 1 }}>
                {board.visits
                  .filter((visit) => visit.instruments.includes(id) && touches(visit, day))
                  .map((visit) => (
                    <p key={visit.id} className={s.use}>
                      {visit.open ? visit.vesselName : 'another job'} {timeIn(visit.from, visit.timeZone)}
                    </p>
                  ))}
              </div>
            ))}
          </div>
        </section>
      ))}
    </>
  )
}
