import { useState } from 'react'
import { Link } from 'react-router'
import type { MadeMoveRowFragment } from '../../graphql/gen/graphql'
import { dayTime, shortDay } from '../../model/dates'
import { plural } from '../../model/words'
import moves from '../moves/moves.module.css'
import { UndoMove } from '../moves/UndoMove'
import { draggable, useActs } from './acts'
import s from './board.module.css'
import type { BoardData } from './useBoard'

/** Jobs that are booked and have no visit: each is placed by the mouse or by its button. */
export function Unplaced({ board }: { board: BoardData }) {
  const acts = useActs()
  return (
    <>
      <h2>Not yet placed</h2>
      {board.unplaced.length === 0 ? (
        <p className={`small note ${s.first}`}>Every booked job has a visit.</p>
      ) : (
        <ol className={s.wait}>
          {board.unplaced.map((job) => (
            <li key={job.id} {...draggable(acts, { what: 'job', job })}>
              <Link to={`/jobs/${job.id}`} draggable={false}>
                <b>{job.vessel.name}</b>
              </Link>
              {[job.kind, job.client?.name, job.standsBetween, job.dueOn && `due ${shortDay(job.dueOn)}`]
                .filter(Boolean)
                .join('; ')}
              {acts.may && (
                <button
                  type="button"
                  className={`quiet ${s.placer}`}
                  aria-label={`Move to…, ${job.vessel.name}, job ${job.number}`}
                  onClick={() => acts.put({ what: 'job', job })}
                >
                  Move to…
                </button>
              )}
            </li>
          ))}
        </ol>
      )}
    </>
  )
}

/** What was moved of late, to be taken back as a whole. */
export function Lately({ board, onDone }: { board: BoardData; onDone: () => void }) {
  const { may } = useActs()
  const [all, setAll] = useState(false)
  if (board.moves.length === 0) return null
  const shown = all ? board.moves : board.moves.slice(0, 2)
  return (
    <section className={`${moves.lately} no-print`}>
      <h2>Moved of late</h2>
      <ul>
        {shown.map((move) => (
          <li key={move.id}>
            <MoveWords move={move} />
            {may && <UndoMove move={move.id} onDone={onDone} />}
          </li>
        ))}
      </ul>
      {!all && board.moves.length > 2 && (
        <button type="button" className="quiet" onClick={() => setAll(true)}>
          {plural(board.moves.length - 2, 'more', 'more')}
        </button>
      )}
    </section>
  )
}

export function MoveWords({ move }: { move: MadeMoveRowFragment }) {
  return (
    <p className="small">
      <b>{move.vesselName}</b>: {move.what}{' '}
      {move.from && <span className={moves.was}>{dayTime(move.from, move.timeZone)}</span>}{' '}
      {move.to && <b>{dayTime(move.to, move.timeZone)}</b>}
      {move.visits > 0 && `, with ${plural(move.visits, 'visit')}`}
      {move.madeBy && `; ${move.madeBy}`}
    </p>
  )
}
