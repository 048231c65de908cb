import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { AddInstrumentDocument, AddScaleDocument, type InstrumentKind } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { parseTenths } from '../../model/number'
import { ChoiceField } from '../../ui/Choice'
import { NumberField, SelectField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './instruments.module.css'

const kinds: InstrumentKind[] = ['capacitance', 'pins', 'hammer', 'thermometer', 'ultrasonic', 'hardness', 'other']

/** An instrument and its first scale. A scale’s ends do not change later: readings were checked against them. */
export function AddInstrument({ onClose }: { onClose: () => void }) {
  const [id] = useState(() => newId('ins'))
  const [made, setMade] = useState(false) // its scale may have failed: it is not made twice
  const [said, setSaid] = useState({ name: '', model: '', serial: '', scale: '', low: '0', high: '100' })
  const [kind, setKind] = useState<InstrumentKind>('capacitance')
  const [sensing, setSensing] = useState<'deep' | 'shallow' | 'pins' | null>('deep')
  const [tried, setTried] = useState(false)
  const [first, addInstrument] = useMutation(AddInstrumentDocument)
  const [second, addScale] = useMutation(AddScaleDocument)
  const put = (field: keyof typeof said) => (event: { target: { value: string } }) =>
    setSaid((now) => ({ ...now, [field]: event.target.value }))
  const low = parseTenths(said.low)
  const high = parseTenths(said.high)
  const ends = low.ok && high.ok && high.value > low.value

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!said.name.trim() || !ends || !low.ok || !high.ok) return
    if (!made) {
      const { data } = await addInstrument({
        input: {
          mutation: newId('mut'),
          id,
          name: said.name.trim(),
          model: said.model.trim(),
          serial: said.serial.trim(),
          kind,
          sensing: sensing ?? '',
        },
      })
      if (!data) return
      setMade(true)
    }
    const scaled = await addScale({
      input: {
        mutation: newId('mut'),
        id: newId('scl'),
        instrument: id,
        name: said.scale.trim() || `${said.low} to ${said.high}`,
        lowTenths: low.value,
        highTenths: high.value,
      },
    })
    if (scaled.data) onClose()
  }

  const error = first.error ?? second.error
  return (
    <Sheet title="Add an instrument" open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {error && <Failed error={error} />}
        <TextField
          label="Name in full"
          value={said.name}
          onChange={put('name')}
          error={tried && !said.name.trim() ? 'Give the name that stands in reports' : undefined}
          help="As every report and plate prints it, never a letter."
        />
        <div className="fields">
          <TextField label="Model" value={said.model} onChange={put('model')} help="Two of one model may be alike." />
          <TextField label="Serial number" value={said.serial} onChange={put('serial')} />
          <SelectField label="Kind" value={kind} onChange={(event) => setKind(event.target.value as InstrumentKind)}>
            {kinds.map((each) => (
              <option key={each}>{each}</option>
            ))}
          </SelectField>
        </div>
        <ChoiceField
          label="Senses"
          value={sensing}
          onChange={setSensing}
          options={[
            { value: 'deep', name: 'Deep' },
            { value: 'shallow', name: 'Shallow' },
            { value: 'pins', name: 'By pins' },
          ]}
        />
        <div className="fields">
          <TextField label="Scale" placeholder="relative" value={said.scale} onChange={put('scale')} />
          <NumberField
            label="From"
            value={said.low}
            onChange={put('low')}
            error={tried && !low.ok ? low.why : undefined}
          />
          <NumberField
            label="To"
            value={said.high}
            onChange={put('high')}
            error={tried && (!high.ok ? high.why : !ends) ? (high.ok ? 'a scale runs upwards' : high.why) : undefined}
          />
        </div>
        <div>
          <button type="submit" className="act" disabled={first.fetching || second.fetching}>
            Add it
          </button>
        </div>
      </form>
    </Sheet>
  )
}
