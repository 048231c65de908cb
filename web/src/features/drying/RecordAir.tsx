import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { faults } from '../../app/faults'
import { type DryingLogFragment, RecordAirDocument, SetDryingCourseDocument } from '../../graphql/gen/graphql'
import { type AirRecord, readAir, tenthsOf, wrongAir } from '../../model/air'
import { zoneName } from '../../model/dates'
import { newId } from '../../model/id'
import { plural } from '../../model/words'
import { ChoiceField } from '../../ui/Choice'
import { NumberField, TextArea, TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import { instantTyped, typed, When } from '../yards/When'
import s from './drying.module.css'

/** As many as one change takes. */
const most = 200

type Where = 'cover' | 'outdoors'

/** The air beside her or outdoors: one look at the instrument, or what a logger kept. */
export function RecordAir({ log, zone }: { log: DryingLogFragment; zone: string }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain no-print" onClick={() => setOpen(true)}>
        Write down the air
      </button>
      {open && <Form log={log} zone={zone} onClose={() => setOpen(false)} />}
    </>
  )
}

function Form({ log, zone, onClose }: { log: DryingLogFragment; zone: string; onClose: () => void }) {
  const [where, setWhere] = useState<Where>('cover')
  const [how, setHow] = useState<'one' | 'log'>('one')
  const [names, setNames] = useState({
    cover: log.course.tentPlace || `Cover of ${log.job.vessel.name}`,
    outdoors: log.course.outdoorsPlace,
  })
  const [source, setSource] = useState('')
  const [at, setAt] = useState(typed(new Date().toISOString(), zone))
  const [celsius, setCelsius] = useState('')
  const [humidity, setHumidity] = useState('')
  const [text, setText] = useState('')
  const [tried, setTried] = useState(false)
  const [naming, name] = useMutation(SetDryingCourseDocument)
  const [recording, record] = useMutation(RecordAirDocument)
  const { at: fault, rest } = faults(recording.error ?? naming.error, 'place', 'source', 'at')

  const { course } = log
  const known = where === 'cover' ? course.tentPlace : course.outdoorsPlace
  const place = names[where].trim()
  const sheet = how === 'log' ? readAir(text, zone) : null
  const moment = instantTyped(at, zone)
  const one = { air: tenthsOf(celsius), damp: tenthsOf(humidity) }
  const wrongOne = wrongAir(one.air, one.damp)
  const records: AirRecord[] =
    sheet?.records ??
    (moment && !wrongOne ? [{ at: moment, airDecidegrees: one.air ?? 0, humidityPermille: one.damp ?? 0 }] : [])

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!place || !source.trim() || records.length === 0) return
    if (known !== place) {
      const { data } = await name({
        input: {
          mutation: newId('mut'),
          job: log.job.id,
          version: course.version,
          beganOn: course.beganOn ?? null,
          wallMm: course.wallMm ?? null,
          inside: course.inside,
          tentPlace: where === 'cover' ? place : course.tentPlace,
          outdoorsPlace: where === 'outdoors' ? place : course.outdoorsPlace,
          targetTenths: course.targetTenths ?? null,
          targetBecause: course.targetBecause,
          note: course.note,
        },
      })
      if (!data) return
    }
    for (let k = 0; k < records.length; k += most) {
      const part = records.slice(k, k + most)
      const { data } = await record({
        input: {
          mutation: newId('mut'),
          job: log.job.id,
          place,
          source: source.trim(),
          at: part.map(({ at }) => at),
          airDecidegrees: part.map(({ airDecidegrees }) => airDecidegrees),
          humidityPermille: part.map(({ humidityPermille }) => humidityPermille),
        },
      })
      if (!data) return
    }
    onClose()
  }

  return (
    <Sheet title="The air" open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {rest && <Failed error={rest} />}
        <ChoiceField
          label="Of"
          value={where}
          onChange={setWhere}
          options={[
            { value: 'cover', name: 'Her cover' },
            { value: 'outdoors', name: 'Outdoors' },
          ]}
        />
        <div className="fields">
          {!known && (
            <TextField
              label="Called in the log"
              value={names[where]}
              onChange={(event) => setNames({ ...names, [where]: event.target.value })}
              error={tried && !place ? 'Name the place whose air it is' : fault('place')}
              help="Later records of this air go under the same name."
            />
          )}
          <TextField
            label="Source"
            placeholder="hygrometer, by hand"
            value={source}
            onChange={(event) => setSource(event.target.value)}
            error={tried && !source.trim() ? 'Say where the figures come from' : fault('source')}
            {...(known ? { help: `Kept under “${known}”.` } : {})}
          />
        </div>
        <ChoiceField
          label="What"
          value={how}
          onChange={setHow}
          options={[
            { value: 'one', name: 'One look' },
            { value: 'log', name: 'A log' },
          ]}
        />
        {how === 'one' ? (
          <>
            <When
              label="On"
              value={at}
              onChange={setAt}
              help={`Times are those of ${zoneName(zone)}.`}
              error={tried && !moment ? 'Give the day and the time' : fault('at')}
            />
            <div className="fields">
              <NumberField
                label="Air"
                unit="°C"
                value={celsius}
                onChange={(event) => setCelsius(event.target.value)}
                error={tried && one.air === undefined ? 'Give a number' : undefined}
              />
              <NumberField
                label="Relative humidity"
                unit="%"
                value={humidity}
                onChange={(event) => setHumidity(event.target.value)}
                error={tried && one.air !== undefined ? wrongOne : undefined}
              />
            </div>
          </>
        ) : (
          <Logged text={text} onChange={setText} zone={zone} sheet={sheet} tried={tried} />
        )}
        <div>
          <button type="submit" className="act" disabled={recording.fetching || naming.fetching}>
            Write down
          </button>
        </div>
      </form>
    </Sheet>
  )
}

function Logged({
  text,
  onChange,
  zone,
  sheet,
  tried,
}: {
  text: string
  onChange: (text: string) => void
  zone: string
  sheet: ReturnType<typeof readAir> | null
  tried: boolean
}) {
  return (
    <>
      <div className="field">
        <label htmlFor="air-file">From a CSV file</label>
        <input
          id="air-file"
          type="file"
          accept=".csv,.txt,text/csv,text/plain"
          onChange={async (event) => {
            const file = event.target.files?.[0]
            if (file) onChange(await file.text())
          }}
        />
      </div>
      <TextArea
        label="Or typed: a line for each"
        rows={7}
        value={text}
        onChange={(event) => onChange(event.target.value)}
        placeholder={'2026-07-14; 08:00; 14.5; 78'}
        error={tried && sheet?.records.length === 0 ? 'No line holds a day, a time, °C and % RH' : undefined}
        help={`Day, time, °C and % RH. Times are those of ${zoneName(zone)}, unless a line says its own offset.`}
      />
      {sheet && sheet.records.length > 0 && <p role="status">{plural(sheet.records.length, 'record')} read.</p>}
      {sheet && sheet.faults.length > 0 && (
        <Notice bad>
          {sheet.faults
            .slice(0, 6)
            .map(({ line, text }) => `Line ${line}: ${text}.`)
            .join(' ')}
          {sheet.faults.length > 6 && ` And ${sheet.faults.length - 6} more.`} These are left out.
        </Notice>
      )}
    </>
  )
}
