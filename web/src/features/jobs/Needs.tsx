import { type FormEvent, useState } from 'react'
import { Link } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import {
  DeclineVisitDocument,
  type JobBodyFragment,
  JobProposalsDocument,
  ProposeAgainDocument,
} from '../../graphql/gen/graphql'
import { dayIn, shortDay, spanTime, timeIn } from '../../model/dates'
import { newId } from '../../model/id'
import { capital } from '../../model/words'
import { TextField } from '../../ui/Field'
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
  if (visits.length === 0 && ['issued', 'closed', 'cancelled'].includes(job.stage)) return null
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
            <li key={v.line} data-declined={v.declined ? true : undefined}>
              <div>
                <h3>{capital(v.line === v.kind ? v.kind : `${v.kind} ${v.line}`)}</h3>
                <p>
                  <b>{spanTime(v.from, v.to, v.timeZone, shortDay)}</b>
                </p>
              </div>
              <div className="measure">
                <p>{v.reason}</p>
                <p className="small note">
                  {v.figures.join(' ')} About {v.hours} h. <i>{capital(v.tag)}.</i>
                </p>
                {v.conflict && <p className={s.clash}>{v.conflict}</p>}
                {v.declined && (
                  <p>
                    <b>Declined</b> {shortDay(v.declined.at)}
                    {v.declined.by && `, ${v.declined.by}`}: {v.declined.reason}
                  </p>
                )}
              </div>
              <div>
                {v.visit ? (
                  <Link to={`/visits/${v.visit}`}>in the diary</Link>
                ) : (
                  <Allowed to="book">
                    {v.declined ? (
                      <Again job={job.id} declined={v.declined.id} line={v.line} onDone={fresh} />
                    ) : (
                      <div className={s.accept}>
                        <PutInDiary job={job} kind={v.kind} onDone={fresh} />
                        {spell && <Decline job={job.id} spell={spell.id} line={v.line} onDone={fresh} />}
                      </div>
                    )}
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

/** A line that nobody wants: declined with its reason, which stays to be seen. */
function Decline({ job, spell, line, onDone }: { job: string; spell: string; line: string; onDone: () => void }) {
  const [open, setOpen] = useState(false)
  const [reason, setReason] = useState('')
  const [{ fetching, error }, decline] = useMutation(DeclineVisitDocument)
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await decline({
      input: { mutation: newId('mut'), id: newId('dcl'), job, spell, line, reason: reason.trim() },
    })
    if (data) onDone()
  }
  if (!open)
    return (
      <button type="button" className="quiet" onClick={() => setOpen(true)}>
        Decline<span className="sr">: {line}</span>
      </button>
    )
  return (
    <form className={s.explain} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <TextField
        label={`Why not: ${line}`}
        value={reason}
        onChange={(event) => setReason(event.target.value)}
        autoComplete="off"
      />
      <div className="buttons">
        <button type="submit" className="plain" disabled={fetching || !reason.trim()}>
          Decline it
        </button>
        <button type="button" className="quiet" onClick={() => setOpen(false)}>
          Leave it
        </button>
      </div>
    </form>
  )
}

function Again({ job, declined, line, onDone }: { job: string; declined: string; line: string; onDone: () => void }) {
  const [{ fetching, error }, again] = useMutation(ProposeAgainDocument)
  return (
    <>
      {error && <Failed error={error} />}
      <button
        type="button"
        className="quiet"
        disabled={fetching}
        onClick={async () => {
          const { data } = await again({ input: { mutation: newId('mut'), id: declined, job } })
          if (data) onDone()
        }}
      >
        Propose it again<span className="sr">: {line}</span>
      </button>
    </>
  )
}
