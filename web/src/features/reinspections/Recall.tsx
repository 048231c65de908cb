import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { Answer } from '../../app/Page'
import {
  RecallDraftDocument,
  type RecallDraftQuery,
  type ReinspectionRowFragment,
  SendRecallDocument,
} from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { plural } from '../../model/words'
import { TextArea, TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import s from './reinspections.module.css'

interface Ways {
  onClose: () => void
  onDone: () => void
}

/** The letter that asks for another look: drafted, looked through, sent. */
export function Recall({ r, ...ways }: { r: ReinspectionRowFragment } & Ways) {
  const [{ data, error }] = useQuery({
    query: RecallDraftDocument,
    variables: { vessel: r.vessel.id },
    requestPolicy: 'network-only',
  })
  return (
    <Sheet title={`Recall ${r.vessel.name}`} open wide onClose={ways.onClose}>
      <Answer data={data} error={error} lines={8}>
        {({ recall }) =>
          recall ? (
            <Letter draft={recall} {...ways} />
          ) : (
            <Notice>
              No client’s job asks for this look, so the service does not know whom to write to. Ring the owner, and
              move it on.
            </Notice>
          )
        }
      </Answer>
    </Sheet>
  )
}

function Letter({ draft, onClose, onDone }: { draft: NonNullable<RecallDraftQuery['recall']> } & Ways) {
  const [subject, setSubject] = useState(draft.subject)
  const [body, setBody] = useState(draft.body)
  const [{ fetching, error }, send] = useMutation(SendRecallDocument)
  const mute = !draft.partyEmail || draft.reinspections.length === 0
  async function go(event: FormEvent) {
    event.preventDefault()
    const { vessel, party, reinspections } = draft
    const { data } = await send({ input: { mutation: newId('mut'), vessel, party, reinspections, subject, body } })
    if (!data) return
    onDone()
    onClose()
  }
  return (
    <form className={s.form} noValidate onSubmit={go}>
      {error && <Failed error={error} />}
      <p>
        To <b>{draft.partyName}</b>
        {draft.partyEmail ? `, ${draft.partyEmail}` : ''}
      </p>
      {!draft.partyEmail && (
        <Notice bad>There is no e-mail address of {draft.partyName}. Add one under People, or write on paper.</Notice>
      )}
      {draft.leftOut > 0 && (
        <Notice>
          {plural(draft.leftOut, 'reason')} left out: they come from a job that may not be told to {draft.partyName}.
        </Notice>
      )}
      <TextField label="Subject" value={subject} onChange={(event) => setSubject(event.target.value)} />
      <TextArea label="Letter" rows={14} value={body} onChange={(event) => setBody(event.target.value)} />
      <div className="buttons">
        <button type="submit" className="act" disabled={fetching || mute}>
          Send the letter
        </button>
        <button type="button" className="plain" onClick={onClose}>
          Not now
        </button>
      </div>
    </form>
  )
}
