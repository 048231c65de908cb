import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import {
  AddAttendanceNoteDocument,
  StrikeAttendanceNoteDocument,
  type SurveyBookBodyFragment,
} from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { capital } from '../../model/words'
import { SelectField, TextArea, TextField } from '../../ui/Field'
import { Tick } from '../../ui/Tick'
import { useTyped } from '../../ui/useTyped'
import { useUnasked } from '../findings/useUnasked'
import s from './surveybook.module.css'

const kinds = ['call', 'talk', 'verbal outline', 'message', 'note'] as const

/** What was said to whom, when: struck out where it is wrong, never rewritten. */
export function Notes({
  job,
  notes,
  fresh,
}: {
  job: string
  notes: SurveyBookBodyFragment['notes']
  fresh: () => void
}) {
  const [kind, setKind] = useState<string>('call')
  const [whom, setWhom] = useTyped(`note/${job}/whom`, '')
  const [text, setText] = useTyped(`note/${job}/text`, '')
  const [wrong, setWrong] = useState<{ text?: string; whom?: string }>({})
  const [striking, setStriking] = useState<string | null>(null)
  const [reason, setReason] = useState('')
  const [{ fetching, error }, add] = useMutation(AddAttendanceNoteDocument)
  const [struck, strike] = useMutation(StrikeAttendanceNoteDocument)
  const [previous, setPrevious] = useState(false)
  const { unasked, field, clear } = useUnasked(error)

  async function send(event: FormEvent) {
    event.preventDefault()
    const faults = {
      ...(text.trim() ? {} : { text: 'Write what was said.' }),
      ...(kind === 'verbal outline' && !whom.trim()
        ? { whom: 'An outline goes to the client alone: say to whom.' }
        : {}),
    }
    setWrong(faults)
    if (Object.keys(faults).length > 0) return
    const { data } = await add({
      input: {
        mutation: newId('mut'),
        id: newId('atn'),
        job,
        kind,
        at: new Date().toISOString(),
        withWhom: whom.trim(),
        text: text.trim(),
        previousSurveyor: previous,
        unasked,
      },
    })
    if (data) {
      setPrevious(false)
      clear()
      setText('')
      setWhom('')
    }
  }

  return (
    <section>
      <h2>Notes</h2>
      {notes.length === 0 && (
        <p className="small note">None yet. Write down calls and what was said, the verbal outline too.</p>
      )}
      <ol className={s.notes}>
        {notes.map((note) => (
          <li key={note.id} data-struck={note.struckAt ? true : undefined}>
            <p className="small note">
              {shortDay(note.at)} · {note.kind}
              {note.withWhom && ` with ${note.withWhom}`} · {note.by}
            </p>
            <p>{note.struckAt ? <s>{note.text}</s> : note.text}</p>
            {note.struckAt ? (
              <p className="small note">Struck out: {note.struckReason}</p>
            ) : striking === note.id ? (
              <form
                className={s.form}
                onSubmit={async (event) => {
                  event.preventDefault()
                  if (!reason.trim()) return
                  const { data } = await strike({
                    input: { mutation: newId('mut'), id: note.id, reason: reason.trim() },
                  })
                  if (!data) return
                  setStriking(null)
                  setReason('')
                  fresh()
                }}
              >
                {struck.error && <Failed error={struck.error} />}
                <TextField label="Why" value={reason} onChange={(event) => setReason(event.target.value)} />
                <div>
                  <button type="submit" className="plain" disabled={struck.fetching || !reason.trim()}>
                    Strike it out
                  </button>
                </div>
              </form>
            ) : (
              <button type="button" className="quiet" onClick={() => setStriking(note.id)}>
                Strike out
              </button>
            )}
          </li>
        ))}
      </ol>
      <form className={s.form} noValidate onSubmit={send}>
        {error && <Failed error={error} />}
        <SelectField label="What it was" value={kind} onChange={(event) => setKind(event.target.value)}>
          {kinds.map((each) => (
            <option key={each} value={each}>
              {capital(each)}
            </option>
          ))}
        </SelectField>
        <TextField
          label="With whom"
          value={whom}
          error={wrong.whom}
          onChange={(event) => setWhom(event.target.value)}
        />
        <Tick checked={previous} onChange={setPrevious}>
          With whoever surveyed her before: this needs leave
        </Tick>
        {field}
        <TextArea
          label="What was said"
          value={text}
          error={wrong.text}
          onChange={(event) => setText(event.target.value)}
        />
        <div>
          <button type="submit" className="plain" disabled={fetching}>
            Write it down
          </button>
        </div>
      </form>
    </section>
  )
}
