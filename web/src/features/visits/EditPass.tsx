import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { EditPassDocument, type PassHeadFragment } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { rains, surfaces } from '../../model/kinds'
import { parseQuantity } from '../../model/number'
import { NumberField, SelectField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './visit.module.css'

/** Three answers, as a pass has them: nobody said yet, yes, no. */
const answers = ['', 'yes', 'no'] as const
const answer = (is: boolean | null | undefined) => (is == null ? '' : is ? 'yes' : 'no')
const toldAs = (text: string) => (text === '' ? null : text === 'yes')

/** Whole hours of what was typed: null for an empty field, undefined where it is no number. */
function hoursOf(text: string): number | null | undefined {
  if (!text.trim()) return null
  const parsed = parseQuantity(text, 0)
  return parsed.ok && parsed.value >= 0 ? parsed.value : undefined
}

/** How an open pass is read, where something was left out when it began or turned out otherwise. */
export function EditPass({ pass }: { pass: PassHeadFragment }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        How it is read
      </button>
      {open && <Form key={pass.version} pass={pass} onClose={() => setOpen(false)} />}
    </>
  )
}

function Form({ pass, onClose }: { pass: PassHeadFragment; onClose: () => void }) {
  const [said, setSaid] = useState({
    surface: pass.surface,
    drySurface: pass.drySurface,
    rain: pass.rain,
    battery: pass.battery,
    wash: pass.hoursSinceWash?.toString() ?? '',
    heatOff: pass.hoursSinceHeatOff?.toString() ?? '',
    heated: answer(pass.heated),
    wiped: answer(pass.saltWiped),
    reset: answer(pass.zeroReset),
  })
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, edit] = useMutation(EditPassDocument)
  const put = (field: keyof typeof said) => (event: { target: { value: string } }) =>
    setSaid((now) => ({ ...now, [field]: event.target.value }))
  const [wash, heatOff] = [hoursOf(said.wash), hoursOf(said.heatOff)]
  const wrong = (hours: number | null | undefined) => (tried && hours === undefined ? 'Give whole hours' : undefined)

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (wash === undefined || heatOff === undefined) return
    const { data } = await edit({
      input: {
        mutation: newId('mut'),
        id: pass.id,
        version: pass.version,
        surface: said.surface,
        drySurface: said.drySurface,
        rain: said.rain,
        battery: said.battery.trim(),
        hoursSinceWash: wash,
        hoursSinceHeatOff: heatOff,
        heated: toldAs(said.heated),
        saltWiped: toldAs(said.wiped),
        zeroReset: toldAs(said.reset),
      },
    })
    if (data) onClose()
  }

  const choice = (label: string, field: keyof typeof said, words: readonly string[], none: string) => (
    <SelectField label={label} value={said[field]} onChange={put(field)}>
      {[...new Set([...words, said[field]])].map((word) => (
        <option key={word} value={word}>
          {word || none}
        </option>
      ))}
    </SelectField>
  )
  return (
    <Sheet title="How it is read" open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {error && <Failed error={error} />}
        <p className="small note">
          Instrument, scale, face and plan stay as the pass began: for another, open another pass. What was said once
          can be said otherwise while the pass is open, and not be unsaid.
        </p>
        <div className="fields">
          {choice('Surface below the water', 'surface', surfaces, 'not stated')}
          {choice('Surface of the dry places', 'drySurface', surfaces, 'not stated')}
          <NumberField label="Washed" unit="hours ago" value={said.wash} onChange={put('wash')} error={wrong(wash)} />
          {choice('Rain since', 'rain', rains, 'not known')}
          {choice('Hull heated', 'heated', answers, 'not known')}
          <NumberField
            label="Heat off"
            unit="hours ago"
            value={said.heatOff}
            onChange={put('heatOff')}
            error={wrong(heatOff)}
          />
          {choice('Salt wiped off', 'wiped', answers, 'not known')}
          {choice('Zero reset', 'reset', answers, 'not known')}
          <TextField label="Battery" value={said.battery} onChange={put('battery')} />
        </div>
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Write down
          </button>
        </div>
      </form>
    </Sheet>
  )
}
