import { Link } from 'react-router'
import { Mark } from '../../figure/marks'
import { read } from '../../graphql/gen'
import { type BoardVisitRowFragment, CheckLineFragmentDoc } from '../../graphql/gen/graphql'
import { daysAshoreAt, hoursOf } from '../../model/board'
import { zoneName } from '../../model/dates'
import { plural } from '../../model/words'
import { draggable, useActs } from './acts'
import s from './board.module.css'
import type { BoardData } from './useBoard'

/** What is said of a visit in few words: what for, when in the yard's own time, how long ashore. */
export function visitWords(visit: BoardVisitRowFragment, board: BoardData, { who = false, where = true } = {}): string {
  const spell = board.spellOf(visit)
  const lift = spell?.actualLift ?? spell?.plannedLift
  const days = daysAshoreAt(lift, visit.from, visit.timeZone)
  return [
    `${visit.kind}, ${hoursOf(visit)}${visit.timeZone === board.timeZone ? '' : ` (${zoneName(visit.timeZone)} time)`}`,
    visit.kind !== 'wet look' && days !== null && `${plural(days, 'day')} ashore`,
    where && board.yardName(spell?.yard),
    who && board.memberName(visit.lead),
    visit.state === 'done' && 'made',
  ]
    .filter(Boolean)
    .join(' · ')
}

export const softOf = (visit: BoardVisitRowFragment) =>
  read(CheckLineFragmentDoc, visit.checks).filter(({ suggestion }) => !suggestion)

/** A visit on its day: taken up by the mouse, moved by its own button. */
export function VisitBox({ visit, board, who }: { visit: BoardVisitRowFragment; board: BoardData; who?: boolean }) {
  const acts = useActs()
  if (!visit.open)
    return (
      <div className={`${s.visit} ${s.shut}`}>
        taken {hoursOf(visit)}
        <span className="note"> · another job</span>
      </div>
    )
  const planned = visit.state === 'planned'
  const against = softOf(visit).some(({ passed }) => !passed)
  return (
    <article
      className={[s.visit, visit.kind === 'wet look' && s.wetlook, !planned && s.made, against && s.against]
        .filter(Boolean)
        .join(' ')}
      aria-label={`${visit.vesselName}, ${visit.kind}`}
      {...(planned ? draggable(acts, { what: 'visit', visit }) : {})}
    >
      <Link to={`/visits/${visit.id}`} draggable={false}>
        <b>{visit.vesselName}</b>
      </Link>
      <span>
        {visit.kind === 'wet look' && <Mark kind="look" />}
        {visitWords(visit, board, { who: who ?? false, where: !who })}
      </span>
      {acts.may && planned && (
        <button
          type="button"
          className={`quiet ${s.mover}`}
          aria-label={`Move to…, ${visit.vesselName}, ${visit.kind}`}
          onClick={() => acts.put({ what: 'visit', visit })}
        >
          Move to…
        </button>
      )}
    </article>
  )
}
