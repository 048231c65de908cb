import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { RecordFindingDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { findingKinds, sures } from '../../model/kinds'
import { parsePlaces } from '../../model/places'
import { capital } from '../../model/words'
import { ChoiceField } from '../../ui/Choice'
import { TextArea, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import s from './findings.module.css'
import { usePlaces } from './usePlaces'

/** Something seen, heard, smelt or opened: how sure is kept apart from how urgent, which a recommendation says. */
export function AddFinding({ visit, vessel }: { visit: string; vessel: string }) {
  const [open, setOpen] = useState(false)
  const [kind, setKind] = useState('')
  const [sure, setSure] = useState<(typeof sures)[number]>('seen')
  const [at, setAt] = useState('')
  const [text, setText] = useState('')
  const [again, setAgain] = useState(false)
  const [wrong, setWrong] = useState<{ kind?: string; at?: string }>({})
  const { places } = usePlaces(vessel, open)
  const [{ fetching, error }, record] = useMutation(RecordFindingDocument)

  async function send(event: FormEvent) {
    event.preventDefault()
    const found = parsePlaces(at, places)
    const faults = {
      ...(kind.trim() ? {} : { kind: 'Say in a few words what it is: blister, crack, dull note, weep.' }),
      ...(found.ok ? {} : { at: found.why }),
    }
    setWrong(faults)
    if (faults.kind || !found.ok) return
    const { data } = await record({
      input: {
        mutation: newId('mut'),
        id: newId('fnd'),
        visit,
        kind: kind.trim(),
        sure,
        text: text.trim(),
        places: found.ordinals,
        lookAgain: again,
      },
    })
    if (!data) return
    setKind('')
    setAt('')
    setText('')
    setAgain(false)
    setOpen(false)
  }

  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Write down a finding
      </button>
      <Sheet title="A finding" open={open} onClose={() => setOpen(false)}>
        <form className={s.form} noValidate onSubmit={send}>
          {error && <Failed error={error} />}
          <TextField
            label="What it is"
            list="finding-kinds"
            value={kind}
            onChange={(event) => setKind(event.target.value)}
            error={wrong.kind}
            help="Seen, heard, smelt or opened. What it means is for the report."
          />
          <datalist id="finding-kinds">
            {findingKinds.map((each) => (
              <option key={each} value={each} />
            ))}
          </datalist>
          <ChoiceField
            label="How sure"
            value={sure}
            onChange={setSure}
            options={sures.map((value) => ({ value, name: capital(value) }))}
          />
          <TextField
            label="At places"
            value={at}
            onChange={(event) => setAt(event.target.value)}
            error={wrong.at}
            placeholder="port 13/3, 13/4"
            help="As they are labelled on the hull; none where it lies elsewhere."
          />
          <TextArea label="In your own words" value={text} onChange={(event) => setText(event.target.value)} />
          <Tick checked={again} onChange={setAgain}>
            Look again here at the next survey
          </Tick>
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
