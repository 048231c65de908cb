import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { type CauseMatterPartsFragment, JudgeCauseDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { ChoiceField } from '../../ui/Choice'
import { SelectField, TextArea, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './causes.module.css'

type Judges = 'agrees' | 'disagrees' | 'adds'

/** A surveyor's own word on a cause: it stands beside the computed line and moves none. */
export function Judge({ matter, visit }: { matter: CauseMatterPartsFragment; visit: string }) {
  const [open, setOpen] = useState(false)
  const [judges, setJudges] = useState<Judges>('agrees')
  const [cause, setCause] = useState(matter.entries[0]?.cause ?? '')
  const [own, setOwn] = useState('')
  const [reason, setReason] = useState('')
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, judge] = useMutation(JudgeCauseDocument)

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!reason.trim() || (judges === 'adds' && !own.trim())) return
    const { data } = await judge({
      input: {
        mutation: newId('mut'),
        id: newId('jdg'),
        visit,
        cause: judges === 'adds' ? own.trim() : cause,
        judges,
        reason: reason.trim(),
        places: matter.places.filter((ordinal) => ordinal !== null),
      },
    })
    if (!data) return
    setOpen(false)
    setTried(false)
    setReason('')
    setOwn('')
  }

  return (
    <div className="buttons">
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Agree, disagree or add<span className="sr"> to {matter.title}</span>
      </button>
      <Sheet title={matter.title} open={open} onClose={() => setOpen(false)}>
        <form className={s.form} noValidate onSubmit={send}>
          {error && <Failed error={error} />}
          <ChoiceField
            label="Your word"
            value={judges}
            onChange={setJudges}
            options={[
              { value: 'agrees', name: 'Agree' },
              { value: 'disagrees', name: 'Disagree' },
              { value: 'adds', name: 'Add a cause' },
            ]}
          />
          {judges === 'adds' ? (
            <TextField
              label="Cause"
              value={own}
              onChange={(event) => setOwn(event.target.value)}
              error={tried && !own.trim() ? 'Name the cause that you add' : undefined}
            />
          ) : (
            <SelectField label="Of the line" value={cause} onChange={(event) => setCause(event.target.value)}>
              {matter.entries.map((entry) => (
                <option key={entry.cause} value={entry.cause}>
                  {entry.name}
                </option>
              ))}
            </SelectField>
          )}
          <TextArea
            label="Because"
            value={reason}
            onChange={(event) => setReason(event.target.value)}
            help="It stands beside the computed line with your name and the day, and is not taken back."
            error={tried && !reason.trim() ? 'Give the reason' : undefined}
          />
          <div>
            <button type="submit" className="act" disabled={fetching}>
              Keep it
            </button>
          </div>
        </form>
      </Sheet>
    </div>
  )
}
