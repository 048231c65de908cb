import { useState } from 'react'
import { Link } from 'react-router'
import { useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { type JobBodyFragment, JobProposalsDocument } from '../../graphql/gen/graphql'
import { dayIn, shortDay, timeIn } from '../../model/dates'
import { capital } from '../../model/words'
import { Waiting } from '../../ui/Notice'
import { PlaceVisit } from '../board/PlaceVisit'
import { MoveSheet } from '../moves/MoveSheet'
import { PlanLift } from '../yards/PlanLift'
import s from './jobs.module.css'

/** The visits that the job needs in the time ashore that she has: windows, with their reasons and figures. */
export function Needs({ job }: { job: JobBodyFragment }) {
  const [{ data, error }, again] = useQuery({
    query: JobProposalsDocument,
    variables: { job: job.id },
    requestPolicy: 'cache-and-network',
  })
  const [moving, setMoving] = useState(false)
  const [lifting, setLifting] = useState(false)
  const fresh = () => again({ requestPolicy: 'network-only' })
  if (error) return <Failed error={error} again={fresh} />
  if (!data) return <Waiting lines={3} />
  const { needs, visits, spell } = data.proposeVisits
  const lift = spell?.actualLift ?? spell?.plannedLift
  return (
    <>
      {needs.map((need) => (
        <p key={need} className="ruled">
          {need}
        </p>
      ))}
      {!spell && visits.length === 0 && (
        <Allowed to="book">
          <div style={{ margin: '8px 0 12px' }}>
            <button type="button" className="plain" onClick={() => setLifting(true)}>
              Plan her lift
            </button>
            {lifting && <PlanLift vessel={job.vessel} onClose={() => setLifting(false)} onDone={fresh} />}
          </div>
        </Allowed>
      )}
      {spell && lift && (
        <p className="small note">
          Linked to the lift of {shortDay(dayIn(lift, spell.timeZone))}, {timeIn(lift, spell.timeZone)}
          {spell.askedOnly && ', which the yard has not agreed yet'}. When it moves, these move with it.{' '}
          {!spell.actualLift && (
            <Allowed to="book">
              <button type="button" className="quiet" onClick={() => setMoving(true)}>
                Move the lift
              </button>
            </Allowed>
          )}
        </p>
      )}
      {moving && spell && <MoveSheet spell={spell.id} onClose={() => setMoving(false)} onDone={fresh} />}
      {visits.length > 0 && (
        <ol className={s.needs}>
          {visits.map((v) => (
            <li key={v.kind + v.from}>
              <div>
                <h3>{capital(v.kind)}</h3>
                <p>
                  <b>
                    {shortDay(dayIn(v.from, v.timeZone))}, {timeIn(v.from, v.timeZone)}
                  </b>{' '}
                  to {shortDay(dayIn(v.to, v.timeZone))}, {timeIn(v.to, v.timeZone)}
                </p>
              </div>
              <div className="measure">
                <p>{v.reason}</p>
                <p className="small note">
                  {v.figures.join(' ')} About {v.hours} h. <i>{capital(v.tag)}.</i>
                </p>
                {v.conflict && <p className={s.clash}>{v.conflict}</p>}
              </div>
              <div>
                {v.visit ? (
                  <Link to={`/visits/${v.visit}`}>in the diary</Link>
                ) : (
                  <Allowed to="book">
                    <PutInDiary job={job} kind={v.kind} onDone={fresh} />
                  </Allowed>
                )}
              </div>
            </li>
          ))}
        </ol>
      )}
    </>
  )
}

/** Opens the form of the board: who could lead it, with which instrument, and what stands against each. */
function PutInDiary({ job, kind, onDone }: { job: JobBodyFragment; kind: string; onDone: () => void }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Put in the diary<span className="sr">: {kind}</span>
      </button>
      {open && <PlaceVisit job={job} kind={kind} onClose={() => setOpen(false)} onDone={onDone} />}
    </>
  )
}
