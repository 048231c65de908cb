import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { Mark } from '../../figure/marks'
import { ExplainActDocument, type JobBodyFragment } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { TextField } from '../../ui/Field'
import s from './jobs.module.css'

/** What was done without a recorded permission: kept, marked, and asked for its reason. */
export function Unasked({ job }: { job: JobBodyFragment }) {
  if (job.withoutLeave.length === 0) return null
  return (
    <>
      <h3 id="without-leave" className={s.unasked}>
        Done without recorded leave
      </h3>
      <ul className={s.leave}>
        {job.withoutLeave.map((act) => (
          <li key={act.id}>
            <Mark kind={act.reason ? 'received' : 'void'} />
            <span>
              {act.text} <span className="small note">{act.stood}</span>
              {!act.reason && (
                <Allowed to="writeVisit">
                  <Explain job={job.id} act={act.id} what={act.what} />
                </Allowed>
              )}
            </span>
            <span className="small">
              {act.reason
                ? `“${act.reason}”, ${[act.reasonBy, act.reasonAt && shortDay(act.reasonAt)].filter(Boolean).join(', ')}`
                : `noted by ${act.by || 'nobody named'}, no reason yet`}
            </span>
          </li>
        ))}
      </ul>
    </>
  )
}

function Explain({ job, act, what }: { job: string; act: string; what: string }) {
  const [reason, setReason] = useState('')
  const [{ fetching, error }, explain] = useMutation(ExplainActDocument)
  async function send(event: FormEvent) {
    event.preventDefault()
    await explain({ input: { mutation: newId('mut'), id: act, job, reason: reason.trim() } })
  }
  return (
    <form className={s.explain} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <TextField
        label={`Why without leave: ${what}`}
        value={reason}
        onChange={(event) => setReason(event.target.value)}
        autoComplete="off"
      />
      <div>
        <button type="submit" className="plain" disabled={fetching || !reason.trim()}>
          Say why
        </button>
      </div>
    </form>
  )
}
