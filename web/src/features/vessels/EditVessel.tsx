import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { EditVesselDocument, type VesselBriefQuery } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { parseQuantity } from '../../model/number'
import { NumberField, SelectField, TextArea, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import s from './vessels.module.css'

type Vessel = NonNullable<VesselBriefQuery['vessel']>

const words = ['name', 'kind', 'builder', 'model', 'yardNumber', 'registry', 'officialNumber', 'sailNumber'] as const

/** What is typed as a number: its label, its unit, its decimals, and how many of what is kept make one. */
const numbers = {
  loaMm: ['Length over all', 'm', 3, 1000],
  hullLengthMm: ['Hull length', 'm', 3, 1000],
  lwlMm: ['Waterline', 'm', 3, 1000],
  beamMm: ['Beam', 'm', 3, 1000],
  draughtMm: ['Draught', 'm', 3, 1000],
  displacementKg: ['Displacement', 't', 3, 1000],
  underbodyAreaM2: ['Underbody', 'm²', 2, 1],
  mouldedYear: ['Moulded in', '', 0, 1],
  monthsAfloat: ['Months a year afloat', '', 0, 1],
} as const
type Numbered = keyof typeof numbers
const named = Object.entries(numbers) as [Numbered, (typeof numbers)[Numbered]][]

const staysWritten = 'What was written down is put right, not emptied.'

/** Everything that is known of her as a hull. A name that changes stays among her former names. */
export function EditVessel({ vessel, onClose }: { vessel: Vessel; onClose: () => void }) {
  const [said, setSaid] = useState({
    ...Object.fromEntries(words.map((word) => [word, vessel[word]])),
    ...Object.fromEntries(
      named.map(([key, [, , , size]]) => [key, vessel[key] == null ? '' : String(Number(vessel[key]) / size)]),
    ),
    hullNumberAsRead: vessel.hullNumber?.asRead ?? '',
    hullNumberWhere: vessel.hullNumber?.whereRead ?? '',
    water: vessel.water,
    notes: vessel.notes,
  } as Record<string, string>)
  const [altered, setAltered] = useState(vessel.hullNumber?.looksAltered ?? false)
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, edit] = useMutation(EditVesselDocument)
  const fault = error?.graphQLErrors[0]
  const at = (field: string) => (fault?.extensions?.field === field ? fault.message : undefined)
  const field = (name: string) => ({
    value: said[name] ?? '',
    onChange: (event: { target: { value: string } }) => setSaid((now) => ({ ...now, [name]: event.target.value })),
  })
  const typed = (key: Numbered) => {
    const text = (said[key] ?? '').trim()
    return text ? parseQuantity(text, numbers[key][2]) : null
  }
  const wrong = (key: Numbered) => {
    const parsed = typed(key)
    const emptied = !parsed && vessel[key] != null // the service keeps a figure that is not said anew
    return (tried && parsed && !parsed.ok ? parsed.why : tried && emptied ? staysWritten : undefined) ?? at(key)
  }

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    const figures: Partial<Record<Numbered, number>> = {}
    for (const [key, [, , , size]] of named) {
      const parsed = typed(key)
      if ((parsed && !parsed.ok) || (!parsed && vessel[key] != null)) return
      if (parsed) figures[key] = size === 1 ? parsed.value : Math.round(parsed.value * size)
    }
    const { data } = await edit({
      input: {
        mutation: newId('mut'),
        id: vessel.id,
        version: vessel.version,
        ...Object.fromEntries(words.map((word) => [word, (said[word] ?? '').trim()])),
        ...figures,
        hullNumberAsRead: said.hullNumberAsRead ?? '',
        hullNumberWhere: said.hullNumberWhere ?? '',
        hullNumberAltered: altered,
        water: said.water ?? '',
        notes: (said.notes ?? '').trim(),
      },
    })
    if (data) onClose()
  }

  return (
    <Sheet title={`What is known of ${vessel.name}`} open onClose={onClose} wide>
      <form className={s.form} noValidate onSubmit={send}>
        {error && !fault?.extensions?.field && <Failed error={error} />}
        <div className="fields">
          <TextField label="Name she carries now" {...field('name')} error={at('name')} />
          <TextField label="Kind" placeholder="fin-keel sloop" {...field('kind')} />
          <TextField label="Builder" {...field('builder')} />
          <TextField label="Model" {...field('model')} />
        </div>
        <div className="fields">
          <TextField
            label="Hull or craft number"
            spellCheck={false}
            {...field('hullNumberAsRead')}
            help="Exactly as read, odd characters too. It is checked and never refused."
          />
          <TextField label="Where it was read" placeholder="transom, starboard" {...field('hullNumberWhere')} />
          <TextField label="Yard number" {...field('yardNumber')} />
          <TextField label="Sail number" {...field('sailNumber')} />
          <TextField label="Registry" {...field('registry')} />
          <TextField label="Official number" {...field('officialNumber')} />
        </div>
        <Tick checked={altered} onChange={setAltered}>
          The number looks altered
        </Tick>
        <div className="fields">
          {named.map(([key, [label, unit]]) => (
            <NumberField key={key} label={label} unit={unit} {...field(key)} error={wrong(key)} />
          ))}
          <SelectField label="Water she lies in" {...field('water')}>
            <option value="">not known</option>
            <option>salt</option>
            <option>brackish</option>
            <option>fresh</option>
          </SelectField>
        </div>
        <TextArea label="Notes" {...field('notes')} help="The practice’s own; no report shows them." />
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Keep it
          </button>
        </div>
      </form>
    </Sheet>
  )
}
