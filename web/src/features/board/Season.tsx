import { Link } from 'react-router'
import { dayIn, dayMonth, dayNumber, dayOf, monday, weekOf } from '../../model/dates'
import { plural } from '../../model/words'
import { YardLane, yardsOf } from './Ashore'
import s from './board.module.css'
import type { BoardData } from './useBoard'

/** How many weeks a season is looked at. */
export const seasonWeeks = 16

/** A season by weeks: who stands ashore where, and how many visits each makes; a number opens its week. */
export function Season({ board, first, today }: { board: BoardData; first: string; today: string }) {
  const weeks = Array.from({ length: seasonWeeks }, (_, i) => dayOf(dayNumber(first) + 7 * i))
  const days = 7 * seasonWeeks
  const inWeek = (day: string, start: string) => dayNumber(monday(day)) === dayNumber(start)
  return (
    <section className={`${s.board} ${s.season}`} aria-label="The season by weeks">
      <div className={`${s.corner} small note`}>week</div>
      <div className={s.weekheads}>
        {weeks.map((start) => (
          <div key={start} className={inWeek(today, start) ? s.now : undefined}>
            <Link to={`?week=${start}`}>
              <b>{weekOf(start)}</b>
              <span>{dayMonth(start)}</span>
            </Link>
          </div>
        ))}
      </div>
      <h2 className={s.part}>Ashore</h2>
      {yardsOf(board, first, days).map((yard) => (
        <YardLane key={yard.id} {...yard} board={board} first={first} days={days} today={today} />
      ))}
      <h2 className={s.part}>Visits a week</h2>
      {board.surveyors.map(({ member }) => (
        <section key={member.id} className={s.lane} aria-label={member.name}>
          <h3>{member.name}</h3>
          <div className={s.weekheads}>
            {weeks.map((start) => {
              const n = board.visits.filter(
                (visit) =>
                  (visit.lead === member.id || visit.people.includes(member.id)) &&
                  inWeek(dayIn(visit.from, visit.timeZone), start),
              ).length
              return (
                <div key={start}>
                  {n > 0 && (
                    <Link to={`?week=${start}`} aria-label={`${plural(n, 'visit')} in week ${weekOf(start)}`}>
                      {n}
                    </Link>
                  )}
                </div>
              )
            })}
          </div>
        </section>
      ))}
    </section>
  )
}
