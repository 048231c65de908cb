import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { AddEventDocument } from '../../graphql/gen/graphql'
import { wholeDay } from '../../model/dates'
import { newId } from '../../model/id'
import { DateField } from '../../ui/DateField'
import { SelectField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './vessels.module.css'

const kinds = ['built', 'repair', 'treatment', 'refit', 'grounding', 'collision', 'other']

/** Something that happened to her: repairs and treatments change what her readings may be held against. */
export function AddEvent({ vessel, onClose }: { vessel: string; onClose: () => void }) {
  const [kind, setKind] = useState('repair')
  const [what, setWhat] = useState('')
  const [from, setFrom] = useState<string | null>(null)
  const [to, setTo] = useState<string | null>(null)
  const [asWritten, setAsWritten] = useState('')
  const [source, setSource] = useState('')
  const [{ fetching, error }, add] = useMutation(AddEventDocument)
  const fault = error?.graphQLErrors[0]
  async function send(event: FormEvent) {
    event.preventDefault()
    if (!wholeDay(from)) return
    const { data } = await add({
      input: {
        mutation: newId('mut'),
        id: newId('evt'),
        vessel,
        kind,
        what: what.trim(),
        from,
        to: wholeDay(to) ? to : from,
        asWritten: asWritten.trim(),
        source: source.trim(),
      },
    })
    if (data) onClose()
  }
  return (
    <Sheet title="What happened to her" open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {error && <Failed error={error} />}
        <div className="fields">
          <SelectField label="It was" value={kind} onChange={(event) => setKind(event.target.value)}>
            {kinds.map((each) => (
              <option key={each}>{each}</option>
            ))}
          </SelectField>
          <TextField
            label="What"
            placeholder="underbody peeled, epoxy scheme"
            value={what}
            onChange={(event) => setWhat(event.target.value)}
            error={fault?.extensions?.field === 'what' ? fault.message : undefined}
          />
        </div>
        <div className="fields">
          <DateField label="First day it may have been" value={from} onChange={setFrom} />
          <DateField label="Last" value={to} onChange={setTo} help="Empty: that one day." />
          <TextField
            label="As somebody wrote it"
            placeholder="winter ’14"
            value={asWritten}
            onChange={(event) => setAsWritten(event.target.value)}
          />
        </div>
        <TextField
          label="Who says so"
          placeholder="the yard’s invoice"
          value={source}
          onChange={(event) => setSource(event.target.value)}
        />
        <p className="small note">Lifts and launches are times ashore, and are planned in her jobs.</p>
        <div>
          <button type="submit" className="act" disabled={fetching || !what.trim() || !wholeDay(from)}>
            Write it down
          </button>
        </div>
      </form>
    </Sheet>
  )
}
