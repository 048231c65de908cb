import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { RecordPermissionDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { permissions } from '../../model/kinds'
import { ChoiceField } from '../../ui/Choice'
import { DateField } from '../../ui/DateField'
import { SelectField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './jobs.module.css'

type State = 'asked' | 'given' | 'refused'

/** A permission, dated, with the name of whoever could give it. */
export function AskPermission({ job }: { job: string }) {
  const [open, setOpen] = useState(false)
  const [what, setWhat] = useState<string>(permissions[0])
  const [extent, setExtent] = useState('')
  const [state, setState] = useState<State>('asked')
  const [on, setOn] = useState<string | null>(new Date().toISOString().slice(0, 10))
  const [by, setBy] = useState('')
  const [good, setGood] = useState('')
  const [{ fetching, error }, record] = useMutation(RecordPermissionDocument)
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await record({
      input: {
        mutation: newId('mut'),
        id: newId('prm'),
        job,
        what,
        extent: extent.trim(),
        askedOn: state === 'asked' ? on : null,
        givenOn: state === 'given' ? on : null,
        refusedOn: state === 'refused' ? on : null,
        givenByName: by.trim(),
        makesGood: good.trim(),
      },
    })
    if (data) setOpen(false)
  }
  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Note a permission
      </button>
      <Sheet title="A permission" open={open} onClose={() => setOpen(false)}>
        <form className={s.form} noValidate onSubmit={send}>
          {error && <Failed error={error} />}
          <SelectField label="Leave to" value={what} onChange={(event) => setWhat(event.target.value)}>
            {permissions.map((kind) => (
              <option key={kind}>{kind}</option>
            ))}
          </SelectField>
          <TextField
            label="How far"
            placeholder="14 windows of 100 × 100 mm"
            value={extent}
            onChange={(event) => setExtent(event.target.value)}
          />
          <ChoiceField
            label="It was"
            value={state}
            onChange={setState}
            options={[
              { value: 'asked', name: 'Asked' },
              { value: 'given', name: 'Given' },
              { value: 'refused', name: 'Refused' },
            ]}
          />
          <div className="fields">
            <DateField label="On" value={on} onChange={setOn} />
            <TextField
              label="By"
              value={by}
              onChange={(event) => setBy(event.target.value)}
              help="The owner, or who acts for the owner. A buyer cannot give it."
            />
          </div>
          <TextField
            label="Who makes good"
            placeholder="the yard, before relaunch"
            value={good}
            onChange={(event) => setGood(event.target.value)}
          />
          <div>
            <button type="submit" className="act" disabled={fetching}>
              Write down
            </button>
          </div>
        </form>
      </Sheet>
    </>
  )
}
