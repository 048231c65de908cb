import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import {
  AddAttendanceNoteDocument,
  StrikeAttendanceNoteDocument,
  type SurveyBookBodyFragment,
} from '../../graphql/gen/graphql'
import { clock, clockTime, dayIn, instantOf, shortDay, wholeDay } from '../../model/dates'
import { newId } from '../../model/id'
import { capital } from '../../model/words'
import { DateField } from '../../ui/DateField'
import { SelectField, TextArea, TextField } from '../../ui/Field'
import { Tick } from '../../ui/Tick'
import { useTyped } from '../../ui/useTyped'
import { useUnasked } from '../findings/useUnasked'
import s from './surveybook.module.css'

const kinds = ['call', 'talk', 'verbal outline', 'message', 'note'] as const

const zone = Intl.DateTimeFormat().resolvedOptions().timeZone

/**
 * When it was said: now where neither day nor time was typed, for what is written down at once; else both count, and
 * a day that is over needs its time, since what was said before what is what such notes are read for.
 */
function whenSaid(day: string | null, time: string): { at: string } | { fault: string } {
  const today = dayIn(Date.now(), zone)
  const on = day ?? today
  if (on === today && !time.trim()) return { at: new Date().toISOString() }
  const clocked = clockTime(time)
  if (!wholeDay(on) || !clocked) return { fault: 'The time of day, such as 14:05.' }
  const at = instantOf(on, clocked, zone)
  return Date.parse(at) > Date.now() + 60_000 ? { fault: 'This lies ahead. Say when it was said.' } : { at }
}

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
  const [day, setDay] = useTyped<string | null>(`note/${job}/day`, null)
  const [time, setTime] = useTyped(`note/${job}/time`, '')
  const [wrong, setWrong] = useState<{ text?: string; whom?: string; when?: string }>({})
  const [striking, setStriking] = useState<string | null>(null)
  const [reason, setReason] = useState('')
  const [{ fetching, error }, add] = useMutation(AddAttendanceNoteDocument)
  const [struck, strike] = useMutation(StrikeAttendanceNoteDocument)
  const [previous, setPrevious] = useState(false)
  const { unasked, field, clear } = useUnasked(error)

  async function send(event: FormEvent) {
    event.preventDefault()
    const when = whenSaid(day, time)
    const faults = {
      ...('fault' in when ? { when: when.fault } : {}),
      ...(text.trim() ? {} : { text: 'Write what was said.' }),
      ...(kind === 'verbal outline' && !whom.trim()
        ? { whom: 'An outline goes to the client alone: say to whom.' }
        : {}),
    }
    setWrong(faults)
    if (Object.keys(faults).length > 0 || 'fault' in when) return
    const { data } = await add({
      input: {
        mutation: newId('mut'),
        id: newId('atn'),
        job,
        kind,
        at: when.at,
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
      setDay(null)
      setTime('')
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
              {shortDay(dayIn(note.at, zone))}, {clock(note.at)} · {note.kind}
              {note.withWhom && ` with ${note.withWhom}`} · {note.by}
              {later(note) && `, written down ${shortDay(dayIn(note.writtenAt, zone))}, ${clock(note.writtenAt)}`}
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
              <button
                type="button"
                className="quiet"
                onClick={() => {
                  setReason('')
                  setStriking(note.id)
                }}
              >
                Strike out<span className="sr">: {note.text.slice(0, 60)}</span>
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
        <div className={s.pair}>
          <DateField label="On" value={day ?? dayIn(Date.now(), zone)} onChange={setDay} />
          <TextField
            label="At what time"
            placeholder="now"
            value={time}
            error={wrong.when}
            autoComplete="off"
            onChange={(event) => setTime(event.target.value)}
          />
        </div>
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

/** Written down a quarter of an hour or more after it was said: a reader ten years on is told so. */
const later = ({ at, writtenAt }: { at: string; writtenAt: string }) =>
  Date.parse(writtenAt) - Date.parse(at) > 15 * 60_000
