import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { AddTidesDocument, type YardBodyFragment } from '../../graphql/gen/graphql'
import { dayTime, zoneName } from '../../model/dates'
import { newId } from '../../model/id'
import { readTides } from '../../model/tides'
import { metres, plural } from '../../model/words'
import { TextArea, TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import { Table } from '../../ui/Table'
import { RemoveTides } from './RemoveTides'
import s from './yards.module.css'

/** As many as one change takes: a year of high waters and some more. */
const most = 800

/** High waters of the yard's place, entered or read from a file, with where they come from. */
export function Tides({
  yard,
  zone,
  may,
  onDone,
}: {
  yard: YardBodyFragment
  zone: string
  may: boolean
  onDone: () => void
}) {
  const [open, setOpen] = useState(false)
  const soon = yard.tides.filter(({ highAt }) => Date.parse(highAt) > Date.now() - 86_400_000).slice(0, 16)
  return (
    <section>
      <div className={s.head}>
        <h2>High water{yard.tidePlace && ` at ${yard.tidePlace}`}</h2>
        {may && yard.tidePlace && (
          <span className="buttons push">
            {yard.tides.length > 0 && <RemoveTides yard={yard} zone={zone} onDone={onDone} />}
            <button type="button" className="plain" onClick={() => setOpen(true)}>
              Enter a tide table
            </button>
          </span>
        )}
      </div>
      {!yard.tidePlace ? (
        <p className="note">
          The yard lifts at any tide, as far as is known. Name the place of its tides where it does not.
        </p>
      ) : soon.length === 0 ? (
        <p className="note">None is known from today on. Lifts are then not held against the tide.</p>
      ) : (
        <Table
          caption="High water"
          hideCaption
          columns={[
            { head: 'high water', names: true, cell: (t) => dayTime(t.highAt, zone) },
            { head: 'height', num: true, cell: (t) => (t.heightMm == null ? '' : metres(t.heightMm)) },
            { head: 'source', cell: (t) => t.source },
          ]}
          rows={soon}
          id={(t) => t.highAt}
        />
      )}
      {open && <Enter place={yard.tidePlace} zone={zone} onClose={() => setOpen(false)} onDone={onDone} />}
    </section>
  )
}

function Enter({
  place,
  zone,
  onClose,
  onDone,
}: {
  place: string
  zone: string
  onClose: () => void
  onDone: () => void
}) {
  const [text, setText] = useState('')
  const [source, setSource] = useState('')
  const [kept, setKept] = useState<number | null>(null)
  const [{ fetching, error }, add] = useMutation(AddTidesDocument)
  const { waters, faults } = readTides(text, zone)

  async function send(event: FormEvent) {
    event.preventDefault()
    let sum = 0
    for (let k = 0; k < waters.length; k += most) {
      const part = waters.slice(k, k + most)
      const { data } = await add({
        input: {
          mutation: newId('mut'),
          place,
          source: source.trim(),
          times: part.map(({ at }) => at),
          heightsMm: part.some(({ heightMm }) => heightMm !== null) ? part.map(({ heightMm }) => heightMm) : null,
        },
      })
      if (!data) return
      sum += data.addTides.kept
    }
    setKept(sum)
    onDone()
  }

  return (
    <Sheet title={`High waters at ${place}`} open onClose={onClose} wide>
      {kept !== null ? (
        <Notice inPlace>
          {plural(kept, 'high water')} kept
          {kept < waters.length && `; ${waters.length - kept} stood there already and stay as they were`}.
        </Notice>
      ) : (
        <form className={s.form} noValidate onSubmit={send}>
          <TextField
            label="Source"
            value={source}
            onChange={(event) => setSource(event.target.value)}
            help="Whose table it is, and of which year. It is shown wherever these times are."
          />
          <div className="field">
            <label htmlFor="tide-file">From a CSV file</label>
            <input
              id="tide-file"
              type="file"
              accept=".csv,.txt,text/csv,text/plain"
              onChange={async (event) => {
                const file = event.target.files?.[0]
                if (file) setText(await file.text())
              }}
            />
          </div>
          <TextArea
            label="Or typed: a line for each"
            rows={8}
            value={text}
            onChange={(event) => setText(event.target.value)}
            placeholder={'2026-10-14; 10:52; 4.3'}
            help={`Day, time and, if known, height in metres above chart datum. Times are those of the yard (${zoneName(zone)}), unless a line says its own offset.`}
          />
          {(waters.length > 0 || faults.length > 0) && (
            <p role="status">
              {plural(waters.length, 'high water')} read
              {waters[0] && `, from ${dayTime(waters[0].at, zone)} to ${dayTime(waters.at(-1)?.at ?? '', zone)}`}.
            </p>
          )}
          {faults.length > 0 && (
            <Notice bad>
              {faults
                .slice(0, 6)
                .map(({ line, text }) => `Line ${line}: ${text}.`)
                .join(' ')}
              {faults.length > 6 && ` And ${faults.length - 6} more.`} These are left out.
            </Notice>
          )}
          {error && <Failed error={error} />}
          <div>
            <button type="submit" className="act" disabled={fetching || waters.length === 0 || !source.trim()}>
              Keep {waters.length > 0 ? plural(waters.length, 'high water') : 'them'}
            </button>
          </div>
        </form>
      )}
    </Sheet>
  )
}
