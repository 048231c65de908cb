import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { faults } from '../../app/faults'
import { EditInstrumentDocument, type InstrumentPageQuery } from '../../graphql/gen/graphql'
import { longDay, wholeDay } from '../../model/dates'
import { newId } from '../../model/id'
import { ChoiceField } from '../../ui/Choice'
import { DateField } from '../../ui/DateField'
import { TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './instruments.module.css'

type Instrument = NonNullable<InstrumentPageQuery['instrumentBook']>['instrument']

/** The thing itself: what it is called, its number, its battery, whether it is in use. */
export function Itself({ instrument }: { instrument: Instrument }) {
  const [open, setOpen] = useState(false)
  const unknown = <span className="note">not written down</span>
  return (
    <section>
      <div className={s.head}>
        <h2>The instrument itself</h2>
        <Allowed to="writeTools">
          <button type="button" className="plain push no-print" onClick={() => setOpen(true)}>
            Change<span className="sr"> the instrument</span>
          </button>
        </Allowed>
      </div>
      <dl className="facts">
        <dt>model</dt>
        <dd>{instrument.model || unknown}</dd>
        <dt>serial number</dt>
        <dd>{instrument.serial || unknown}</dd>
        <dt>battery</dt>
        <dd>{instrument.batteryNote || unknown}</dd>
        <dt>bought</dt>
        <dd>{instrument.boughtOn ? longDay(instrument.boughtOn) : unknown}</dd>
        <dt>in use</dt>
        <dd>{instrument.retiredOn ? `no, retired ${longDay(instrument.retiredOn)}` : 'yes'}</dd>
      </dl>
      {open && <Form instrument={instrument} onClose={() => setOpen(false)} />}
    </section>
  )
}

function Form({ instrument, onClose }: { instrument: Instrument; onClose: () => void }) {
  const [said, setSaid] = useState({
    name: instrument.name,
    serial: instrument.serial,
    batteryNote: instrument.batteryNote,
  })
  const [use, setUse] = useState<'use' | 'retired'>(instrument.retiredOn ? 'retired' : 'use')
  const [retiredOn, setRetiredOn] = useState<string | null>(instrument.retiredOn ?? null)
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, edit] = useMutation(EditInstrumentDocument)
  const { at, rest } = faults(error, 'name', 'retiredOn')
  const put = (field: keyof typeof said) => (event: { target: { value: string } }) =>
    setSaid((now) => ({ ...now, [field]: event.target.value }))
  const retired = use === 'retired'
  const noDay = retired && !wholeDay(retiredOn)

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!said.name.trim() || noDay) return
    const { data } = await edit({
      input: {
        mutation: newId('mut'),
        id: instrument.id,
        version: instrument.version,
        name: said.name.trim(),
        serial: said.serial.trim(),
        batteryNote: said.batteryNote.trim(),
        retiredOn: retired ? retiredOn : null,
        inUse: !retired,
      },
    })
    if (data) onClose()
  }

  return (
    <Sheet title={instrument.name} open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {rest && <Failed error={rest} />}
        <TextField
          label="Name in full"
          value={said.name}
          onChange={put('name')}
          error={tried && !said.name.trim() ? 'Give the name that stands in reports' : at('name')}
          help="Reports that were issued keep the name they were issued with."
        />
        <div className="fields">
          <TextField label="Serial number" value={said.serial} onChange={put('serial')} />
          <TextField
            label="Battery"
            placeholder="9 V, changed in March"
            value={said.batteryNote}
            onChange={put('batteryNote')}
          />
        </div>
        <ChoiceField
          label="It is"
          value={use}
          onChange={setUse}
          options={[
            { value: 'use', name: 'In use' },
            { value: 'retired', name: 'Retired' },
          ]}
          help="What it read stays its own either way. A visit that takes it after it was retired says so."
        />
        {retired && (
          <DateField
            label="Retired on"
            value={retiredOn}
            onChange={setRetiredOn}
            error={tried && noDay ? 'Give the whole day' : at('retiredOn')}
          />
        )}
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Write down
          </button>
        </div>
      </form>
    </Sheet>
  )
}
