import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { faults } from '../../app/faults'
import { RecordSheetTestDocument } from '../../graphql/gen/graphql'
import { zoneName } from '../../model/dates'
import { newId } from '../../model/id'
import { ChoiceField } from '../../ui/Choice'
import { TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { instantTyped, typed, When } from '../yards/When'
import s from './drying.module.css'

const day = 86_400_000

/** What a plastic sheet taped to the skin showed. It screens, and clears nothing. */
export function RecordSheetTest({ job, zone }: { job: string; zone: string }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain no-print" onClick={() => setOpen(true)}>
        Write down a sheet
      </button>
      {open && <Form job={job} zone={zone} onClose={() => setOpen(false)} />}
    </>
  )
}

function Form({ job, zone, onClose }: { job: string; zone: string; onClose: () => void }) {
  const [place, setPlace] = useState('')
  const [taped, setTaped] = useState(typed(new Date(Date.now() - day).toISOString(), zone))
  const [looked, setLooked] = useState(typed(new Date().toISOString(), zone))
  const [showed, setShowed] = useState<'water' | 'none' | null>(null)
  const [note, setNote] = useState('')
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, record] = useMutation(RecordSheetTestDocument)
  const { at, rest } = faults(error, 'lookedAt', 'tapedAt')
  const [from, to] = [instantTyped(taped, zone), instantTyped(looked, zone)]
  const hours = from && to ? (Date.parse(to) - Date.parse(from)) / 3_600_000 : null

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!place.trim() || !from || !to || hours === null || hours <= 0 || !showed) return
    const { data } = await record({
      input: {
        mutation: newId('mut'),
        id: newId('sht'),
        job,
        place: place.trim(),
        tapedAt: from,
        lookedAt: to,
        condensed: showed === 'water',
        note: note.trim(),
      },
    })
    if (data) onClose()
  }

  return (
    <Sheet title="A plastic sheet" open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {rest && <Failed error={rest} />}
        <p className="small note">
          About 1 m² of clear sheet, taped round for 24 to 48 h, heat off (common practice, no source). It is screening
          only: water under it says that there is some; none says little.
        </p>
        <TextField
          label="Where on the hull"
          placeholder="port, stations 8 to 9, below the turn of bilge"
          value={place}
          onChange={(event) => setPlace(event.target.value)}
          error={tried && !place.trim() ? 'Say where, so that it can be found again' : undefined}
        />
        <When
          label="Taped on"
          value={taped}
          onChange={setTaped}
          error={tried && !from ? 'Give the day and the time' : at('tapedAt')}
        />
        <When
          label="Looked at on"
          value={looked}
          onChange={setLooked}
          help={`Times are those of ${zoneName(zone)}.`}
          error={
            tried && !to
              ? 'Give the day and the time'
              : hours !== null && hours <= 0
                ? 'It is looked at after it was taped'
                : at('lookedAt')
          }
        />
        {hours !== null && hours > 0 && <p role="status">On for {hours.toFixed(0)} h.</p>}
        <ChoiceField
          label="Under it"
          value={showed}
          onChange={setShowed}
          options={[
            { value: 'water', name: 'Water stood' },
            { value: 'none', name: 'No water seen' },
          ]}
          {...(tried && !showed ? { error: 'Say what was seen' } : {})}
        />
        <TextField label="Note" value={note} onChange={(event) => setNote(event.target.value)} />
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Write down
          </button>
        </div>
      </form>
    </Sheet>
  )
}
