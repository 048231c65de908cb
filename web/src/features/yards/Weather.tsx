import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { RecordWeatherDocument, type YardBodyFragment } from '../../graphql/gen/graphql'
import { dayIn, dayTime } from '../../model/dates'
import { newId } from '../../model/id'
import { celsius, humidity } from '../../model/words'
import { NumberField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { Table } from '../../ui/Table'
import { instantTyped, type Typed, When } from './When'
import s from './yards.module.css'

/** What the weather was: rain and frost move when readings are worth taking. */
export function WeatherRecord({
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
  const latest = [...yard.weather].sort((a, b) => (a.at < b.at ? 1 : -1)).slice(0, 12)
  return (
    <section>
      <div className={s.head}>
        <h2>Weather record</h2>
        {may && (
          <button type="button" className="plain push" onClick={() => setOpen(true)}>
            Write down the weather
          </button>
        )}
      </div>
      <p className="small note measure">
        Rain on a hull in the open moves its readings a week on (computed); a day of frost moves them to the next
        (common practice, no source). The visit’s window says so.
      </p>
      {latest.length === 0 ? (
        <p className="note">Nothing is recorded. Windows then rest on the hull and the lift alone.</p>
      ) : (
        <Table
          caption="Weather record"
          hideCaption
          columns={[
            { head: 'when', names: true, cell: (w) => dayTime(w.at, zone) },
            { head: 'rain', num: true, cell: (w) => (w.rainMm == null ? '' : `${w.rainMm} mm`) },
            { head: 'air', num: true, cell: (w) => (w.airDecidegrees == null ? '' : celsius(w.airDecidegrees)) },
            {
              head: 'humidity',
              num: true,
              cell: (w) => (w.humidityPermille == null ? '' : humidity(w.humidityPermille)),
            },
            {
              head: 'source',
              cell: (w) => [w.source, w.place !== yard.yard.name && w.place].filter(Boolean).join(', '),
            },
          ]}
          rows={latest}
          id={(w) => w.place + w.at}
        />
      )}
      {open && <Record yard={yard} zone={zone} onClose={() => setOpen(false)} onDone={onDone} />}
    </section>
  )
}

/** A typed number, comma or point, times a factor; null for nothing, undefined for no number. */
function times(text: string, factor: number): number | null | undefined {
  const plain = text.trim().replace(',', '.').replace('−', '-')
  if (!plain) return null
  return /^-?\d{1,4}(\.\d)?$/.test(plain) ? Math.round(Number(plain) * factor) : undefined
}

function Record({
  yard,
  zone,
  onClose,
  onDone,
}: {
  yard: YardBodyFragment
  zone: string
  onClose: () => void
  onDone: () => void
}) {
  const [at, setAt] = useState<Typed>({ day: dayIn(Date.now(), zone), time: '08:00' })
  const [rain, setRain] = useState('')
  const [air, setAir] = useState('')
  const [damp, setDamp] = useState('')
  const [source, setSource] = useState('')
  const [{ fetching, error }, record] = useMutation(RecordWeatherDocument)
  const given = { rainMm: times(rain, 1), airDecidegrees: times(air, 10), humidityPermille: times(damp, 10) }
  const when = instantTyped(at, zone)
  const wrong = Object.values(given).includes(undefined)
  const some = Object.values(given).some((value) => typeof value === 'number')

  async function send(event: FormEvent) {
    event.preventDefault()
    if (!when || wrong) return
    const { data } = await record({
      input: {
        mutation: newId('mut'),
        id: newId('wea'),
        place: yard.yard.name,
        at: when,
        rainMm: given.rainMm ?? null,
        airDecidegrees: given.airDecidegrees ?? null,
        humidityPermille: given.humidityPermille ?? null,
        source: source.trim(),
      },
    })
    if (!data) return
    onDone()
    onClose()
  }

  const bad = (value: number | null | undefined) => (value === undefined ? 'a number' : undefined)
  return (
    <Sheet title={`The weather at ${yard.yard.name}`} open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        <When label="When" value={at} onChange={setAt} />
        <div className="fields">
          <NumberField
            label="Rain"
            unit="mm"
            value={rain}
            onChange={(event) => setRain(event.target.value)}
            error={bad(given.rainMm)}
          />
          <NumberField
            label="Air, lowest"
            unit="°C"
            value={air}
            onChange={(event) => setAir(event.target.value)}
            error={bad(given.airDecidegrees)}
          />
          <NumberField
            label="Humidity"
            unit="% RH"
            value={damp}
            onChange={(event) => setDamp(event.target.value)}
            error={bad(given.humidityPermille)}
          />
        </div>
        <TextField
          label="Source"
          value={source}
          onChange={(event) => setSource(event.target.value)}
          help="Whose gauge, or who saw it."
        />
        {error && <Failed error={error} />}
        <div>
          <button type="submit" className="act" disabled={fetching || !when || wrong || !some || !source.trim()}>
            Write down
          </button>
        </div>
      </form>
    </Sheet>
  )
}
