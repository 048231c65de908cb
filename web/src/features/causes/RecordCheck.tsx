import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { RecordCauseCheckDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { TextArea } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { useUnasked } from '../findings/useUnasked'
import type { Ledger } from './CausesPage'
import s from './causes.module.css'

interface Props {
  check: Ledger['checks'][number]
  places: readonly (number | null)[]
  visit: string
}

/** What came of a check, as one of the outcomes it can have. */
export function RecordCheck({ check, places, visit }: Props) {
  const [open, setOpen] = useState(false)
  const [outcome, setOutcome] = useState('')
  const [note, setNote] = useState('')
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, record] = useMutation(RecordCauseCheckDocument)
  const { unasked, field } = useUnasked(error)

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!outcome) return
    const { data } = await record({
      input: {
        mutation: newId('mut'),
        id: newId('chk'),
        visit,
        outcome,
        note: note.trim(),
        places: places.filter((ordinal) => ordinal !== null),
        unasked,
      },
    })
    if (data) setOpen(false)
  }

  return (
    <>
      <button type="button" className="quiet" onClick={() => setOpen(true)}>
        Say what came of it<span className="sr">: {check.text}</span>
      </button>
      <Sheet title={check.text} open={open} onClose={() => setOpen(false)}>
        <form className={s.form} noValidate onSubmit={send}>
          {error && <Failed error={error} />}
          {check.consent && (
            <p className="small">
              This needs leave to {check.consent}, from whoever may give it, dated, before it is done.
            </p>
          )}
          <fieldset className={s.outcomes}>
            <legend>What came of it</legend>
            {check.outcomes.map(({ sign, text }) => (
              <label key={sign}>
                <input
                  type="radio"
                  name={`${check.code}-outcome`}
                  value={sign}
                  checked={outcome === sign}
                  onChange={() => setOutcome(sign)}
                />
                {text}
              </label>
            ))}
            {tried && !outcome && (
              <p className="error" role="alert">
                Choose what came of it
              </p>
            )}
          </fieldset>
          <TextArea label="Note" value={note} onChange={(event) => setNote(event.target.value)} />
          {field}
          <div>
            <button type="submit" className="act" disabled={fetching}>
              Keep it
            </button>
          </div>
        </form>
      </Sheet>
    </>
  )
}
