import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { MarkHullDocument, RemoveMarksDocument, type VisitPageQuery } from '../../graphql/gen/graphql'
import { dayTime } from '../../model/dates'
import { newId } from '../../model/id'
import { capital } from '../../model/words'
import { SelectField, TextField } from '../../ui/Field'
import { useUnasked } from '../findings/useUnasked'
import s from './visit.module.css'

type Visit = NonNullable<VisitPageQuery['visit']>

const kinds = ['chalk', 'tape', 'wax pencil'] as const

/** Marks on the hull: made with leave, of a kind that comes off, and taken off again. */
export function Marks({ visit }: { visit: Visit }) {
  const [open, setOpen] = useState(false)
  const [removed, remove] = useMutation(RemoveMarksDocument)
  return (
    <section>
      <h2>Marks on the hull</h2>
      {visit.marks.length === 0 && (
        <p className="small note">
          None noted. For a buyer’s survey: station marks only, of a kind that comes off, and taken off (common
          practice, no source).
        </p>
      )}
      {removed.error && <Failed error={removed.error} />}
      <ul className="plain-list" hidden={visit.marks.length === 0}>
        {visit.marks.map((mark) => (
          <li key={mark.id} className={s.mark}>
            <span>
              {capital(mark.madeWith)}, {mark.where}
              <span className="small note">
                {' '}
                {mark.removedAt ? `off again ${dayTime(mark.removedAt, visit.timeZone)}` : 'still on her'}
              </span>
            </span>
            {!mark.removedAt && (
              <Allowed to="writeVisit">
                <button
                  type="button"
                  className="quiet"
                  disabled={removed.fetching}
                  onClick={() =>
                    remove({
                      input: { mutation: newId('mut'), id: mark.id, visit: visit.id, at: new Date().toISOString() },
                    })
                  }
                >
                  Taken off<span className="sr">: {mark.where}</span>
                </button>
              </Allowed>
            )}
          </li>
        ))}
      </ul>
      <Allowed to="writeVisit">
        {open ? (
          <Form visit={visit.id} onDone={() => setOpen(false)} />
        ) : (
          <button type="button" className="plain" onClick={() => setOpen(true)}>
            Note marks
          </button>
        )}
      </Allowed>
    </section>
  )
}

function Form({ visit, onDone }: { visit: string; onDone: () => void }) {
  const [kind, setKind] = useState<string>('chalk')
  const [where, setWhere] = useState('')
  const [wrong, setWrong] = useState<string | undefined>()
  const [{ fetching, error }, mark] = useMutation(MarkHullDocument)
  const { unasked, field } = useUnasked(error)
  async function send(event: FormEvent) {
    event.preventDefault()
    setWrong(where.trim() ? undefined : 'Say where they are.')
    if (!where.trim()) return
    const { data } = await mark({
      input: {
        mutation: newId('mut'),
        id: newId('hmk'),
        visit,
        madeWith: kind,
        where: where.trim(),
        madeAt: new Date().toISOString(),
        unasked,
      },
    })
    if (data) onDone()
  }
  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <SelectField label="With" value={kind} onChange={(event) => setKind(event.target.value)}>
        {kinds.map((each) => (
          <option key={each}>{each}</option>
        ))}
      </SelectField>
      <TextField
        label="Where"
        placeholder="stations 1 to 14, both sides"
        value={where}
        error={wrong}
        onChange={(event) => setWhere(event.target.value)}
      />
      {field}
      <div className="buttons">
        <button type="submit" className="act" disabled={fetching}>
          Write down
        </button>
        <button type="button" className="quiet" onClick={onDone}>
          Leave it
        </button>
      </div>
    </form>
  )
}
