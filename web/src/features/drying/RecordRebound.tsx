import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { faults } from '../../app/faults'
import { type DryingLogFragment, ReboundScalesDocument, RecordReboundDocument } from '../../graphql/gen/graphql'
import { dayIn, shortDay, zoneName } from '../../model/dates'
import { newId } from '../../model/id'
import { parseTenths, tenths } from '../../model/number'
import { ChoiceField } from '../../ui/Choice'
import { SelectField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { instantTyped, typed, When } from '../yards/When'
import s from './drying.module.css'

/** One place as it is typed: its ordinal, and what it read before and after. */
interface Row {
  place: string
  before: string
  after: string
}

const empty: Row = { place: '', before: '', after: '' }

/** So many places give the median rise an interval. */
const enough = 6

/** What places read before a wash, or with heat on, and a fixed time after it. */
export function RecordRebound({ log, zone }: { log: DryingLogFragment; zone: string }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain no-print" onClick={() => setOpen(true)}>
        Write down a rebound
      </button>
      {open && <Form log={log} zone={zone} onClose={() => setOpen(false)} />}
    </>
  )
}

/** What is wrong with a row; the figures themselves where nothing is. */
function figures(row: Row, scale: { lowTenths: number; highTenths: number } | undefined) {
  const read = [row.before, row.after].map((text) => {
    const parsed = parseTenths(text)
    if (!parsed.ok) return { wrong: text.trim() ? parsed.why : 'a figure is missing' }
    if (scale && (parsed.value < scale.lowTenths || parsed.value > scale.highTenths))
      return { wrong: `the scale ends at ${tenths(scale.lowTenths)} and ${tenths(scale.highTenths)}` }
    return { value: parsed.value }
  })
  const wrong = read.find((one) => one.wrong)?.wrong ?? (row.place ? undefined : 'choose the place')
  return { wrong, before: read[0]?.value, after: read[1]?.value }
}

const typedIn = (row: Row) => Boolean(row.before.trim() || row.after.trim())

function Form({ log, zone, onClose }: { log: DryingLogFragment; zone: string; onClose: () => void }) {
  const [{ data }] = useQuery({ query: ReboundScalesDocument })
  const last = log.rebounds.at(-1)
  const [after, setAfter] = useState<'wash' | 'heat off'>(log.washes.length > 0 ? 'wash' : 'heat off')
  const [wash, setWash] = useState(log.washes.at(-1)?.id ?? '')
  const [began, setBegan] = useState(typed(null, zone))
  const [read, setRead] = useState(typed(null, zone))
  const [chosen, choose] = useState('')
  // The same places each time: only then do the rises of two cycles stand beside each other.
  const [rows, setRows] = useState<Row[]>(() =>
    Array.from({ length: Math.max(enough, last?.places.length ?? 0) }, (_, k) => ({
      ...empty,
      place: last?.places[k]?.toString() ?? '',
    })),
  )
  const [note, setNote] = useState('')
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, record] = useMutation(RecordReboundDocument)
  const { at, rest } = faults(error, 'beganAt', 'readAt', 'wash', 'scale')

  const scales = (data?.instruments.edges ?? []).flatMap(({ node }) =>
    node.retiredOn ? [] : node.scales.map((scale) => ({ ...scale, instrument: node.name })),
  )
  const usual = last?.instrument ?? log.passes.findLast(({ part }) => part === 'series')?.instrument
  const scale =
    scales.find(({ id }) => id === chosen) ?? (chosen ? undefined : scales.find((each) => each.instrument === usual))
  const [from, to] = [instantTyped(began, zone), instantTyped(read, zone)]
  const hours = from && to ? (Date.parse(to) - Date.parse(from)) / 3_600_000 : null
  const used = rows.filter(typedIn)
  const twice = used.find((row, k) => row.place && used.findIndex(({ place }) => place === row.place) !== k)
  const bad = used.some((row) => figures(row, scale).wrong)
  const put = (k: number, change: Partial<Row>) =>
    setRows(rows.map((row, n) => (n === k ? { ...row, ...change } : row)))

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!from || !to || hours === null || hours <= 0 || !scale || used.length === 0 || bad || twice) return
    if (after === 'wash' && !wash) return
    const { data } = await record({
      input: {
        mutation: newId('mut'),
        id: newId('rbd'),
        job: log.job.id,
        after,
        wash: after === 'wash' ? wash : null,
        beganAt: from,
        readAt: to,
        scale: scale.id,
        places: used.map(({ place }) => Number(place)),
        beforeTenths: used.map((row) => figures(row, scale).before ?? 0),
        afterTenths: used.map((row) => figures(row, scale).after ?? 0),
        note: note.trim(),
      },
    })
    if (data) onClose()
  }

  return (
    <Sheet title="What rebounds" open onClose={onClose} wide>
      <form className={s.form} noValidate onSubmit={send}>
        {rest && <Failed error={rest} />}
        <p className="small note measure">
          The same places by the same instrument, before and a fixed time after: 24 to 48 h, heat off (own rule; common
          practice, no source). The rise tells, not the reading; six places give it an interval.
        </p>
        <ChoiceField
          label="After"
          value={after}
          onChange={setAfter}
          options={[
            { value: 'wash', name: 'A wash', disabled: log.washes.length === 0 },
            { value: 'heat off', name: 'Heat off' },
          ]}
        />
        <div className="fields">
          {after === 'wash' && (
            <SelectField
              label="Which wash"
              value={wash}
              onChange={(event) => setWash(event.target.value)}
              error={at('wash')}
            >
              {[...log.washes].reverse().map((each) => (
                <option key={each.id} value={each.id}>
                  {shortDay(dayIn(each.at, zone))}, {each.how}
                  {each.extent && `, ${each.extent}`}
                </option>
              ))}
            </SelectField>
          )}
          <SelectField
            label="Instrument and scale"
            value={scale?.id ?? ''}
            onChange={(event) => choose(event.target.value)}
            error={tried && !scale ? 'Choose the scale' : at('scale')}
          >
            <option value="">choose</option>
            {scales.map(({ id, name, instrument }) => (
              <option key={id} value={id}>
                {instrument}, scale {name}
              </option>
            ))}
          </SelectField>
        </div>
        <When
          label={after === 'wash' ? 'Wash ended on' : 'Heat off on'}
          value={began}
          onChange={setBegan}
          error={tried && !from ? 'Give the day and the time' : at('beganAt')}
        />
        <When
          label="Read on"
          value={read}
          onChange={setRead}
          help={`Times are those of ${zoneName(zone)}.`}
          error={
            tried && !to
              ? 'Give the day and the time'
              : hours !== null && hours <= 0
                ? 'It is read after it began'
                : at('readAt')
          }
        />
        {hours !== null && hours > 0 && (
          <p role="status">
            Read {hours.toFixed(0)} h after{last && `; last time ${last.hours.toFixed(0)} h`}.
          </p>
        )}
        <fieldset className={s.rows}>
          <legend>Places, and what each read</legend>
          {rows.map((row, k) => {
            const wrong =
              typedIn(row) && (tried || (row.before.trim() && row.after.trim())) && figures(row, scale).wrong
            return (
              <div key={k} className={s.row}>
                <SelectField
                  label="place"
                  aria-label={`Place, line ${k + 1}`}
                  value={row.place}
                  onChange={(event) => put(k, { place: event.target.value })}
                >
                  <option value="">choose</option>
                  {log.axis.labels.map((label, slot) => (
                    <option key={slot} value={slot + 1}>
                      {`${log.axis.sides[slot] ?? ''} ${label}`.trim()}
                    </option>
                  ))}
                </SelectField>
                <TextField
                  label="before"
                  aria-label={`Before, line ${k + 1}`}
                  inputMode="decimal"
                  autoComplete="off"
                  value={row.before}
                  onChange={(event) => put(k, { before: event.target.value })}
                  error={
                    wrong ||
                    (twice && row.place === twice.place && typedIn(row) ? 'this place stands twice' : undefined)
                  }
                />
                <TextField
                  label="after"
                  aria-label={`After, line ${k + 1}`}
                  inputMode="decimal"
                  autoComplete="off"
                  value={row.after}
                  onChange={(event) => put(k, { after: event.target.value })}
                />
              </div>
            )
          })}
          <button type="button" className="quiet" onClick={() => setRows([...rows, empty])}>
            Another place
          </button>
          {tried && used.length === 0 && (
            <p className="small" role="alert" style={{ color: 'var(--warn)' }}>
              Give one place at least with what it read before and after.
            </p>
          )}
        </fieldset>
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
