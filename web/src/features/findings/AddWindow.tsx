import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { RecordWindowDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { wholeBetween } from '../../model/number'
import { capital } from '../../model/words'
import { ChoiceField } from '../../ui/Choice'
import { NumberField, SelectField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './findings.module.css'
import { usePlaces } from './usePlaces'
import { useUnasked } from './useUnasked'

const lengths = [
  ['along', 'Forward of the aft perpendicular', 0, 100_000],
  ['down', 'Down the skin below the waterline mark', -10_000, 10_000],
  ['width', 'Width', 1, 5000],
  ['height', 'Height', 1, 5000],
] as const
type Length = (typeof lengths)[number][0]

/** A patch scraped bare: its area makes a count of blisters, also a count of none, mean something. */
export function AddWindow({ visit, vessel }: { visit: string; vessel: string }) {
  const [open, setOpen] = useState(false)
  const [side, setSide] = useState<'port' | 'starboard'>('port')
  const [typed, setTyped] = useState<Record<Length, string>>({ along: '', down: '', width: '100', height: '100' })
  const [bared, setBared] = useState('gelcoat')
  const [seen, setSeen] = useState('0')
  const [good, setGood] = useState('')
  const [on, setOn] = useState('')
  const [wrong, setWrong] = useState<Partial<Record<Length | 'seen' | 'element', string>>>({})
  const { elements, known, error: lost, again } = usePlaces(vessel, open)
  const hulls = elements.filter(({ kind }) => kind === 'hull')
  const element = on || (hulls[0]?.id ?? '')
  const [{ fetching, error }, record] = useMutation(RecordWindowDocument)
  const { unasked, field, clear } = useUnasked(error)

  async function send(event: FormEvent) {
    event.preventDefault()
    const faults: typeof wrong = {}
    const mm = {} as Record<Length, number>
    for (const [key, , low, high] of lengths) {
      const read = wholeBetween(typed[key], low, high)
      if (read.ok) mm[key] = read.value
      else faults[key] = `Whole millimetres, ${low} to ${high}.`
    }
    const blisters = wholeBetween(seen, 0, 100_000)
    if (!blisters.ok) faults.seen = 'How many, 0 for none.'
    if (!element) faults.element = 'Her hull has no figure yet. Lay her out first.'
    setWrong(faults)
    if (Object.keys(faults).length > 0 || !blisters.ok) return
    const { data } = await record({
      input: {
        mutation: newId('mut'),
        id: newId('win'),
        visit,
        element,
        side,
        alongMm: mm.along,
        downMm: mm.down,
        widthMm: mm.width,
        heightMm: mm.height,
        baredTo: bared.trim() || 'gelcoat',
        blistersSeen: blisters.value,
        madeGood: good.trim(),
        unasked,
      },
    })
    if (!data) return
    setTyped((now) => ({ ...now, along: '', down: '' }))
    setSeen('0')
    clear()
    setOpen(false)
  }

  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Note a window
      </button>
      <Sheet title="A scrape window" open={open} onClose={() => setOpen(false)}>
        <form className={s.form} noValidate onSubmit={send}>
          {error && <Failed error={error} />}
          {lost && <Failed error={lost} again={again} />}
          {wrong.element && (
            <p className="error" role="alert">
              {wrong.element}
            </p>
          )}
          <p className="note">
            Scraping needs the owner’s leave, wet, with mask and gloves; collect what falls. Have it made good before
            relaunch.
          </p>
          {hulls.length > 1 && (
            <SelectField label="On" value={element} onChange={(event) => setOn(event.target.value)}>
              {hulls.map(({ id, name }) => (
                <option key={id} value={id}>
                  {name}
                </option>
              ))}
            </SelectField>
          )}
          <ChoiceField
            label="Side"
            value={side}
            onChange={setSide}
            options={(['port', 'starboard'] as const).map((value) => ({ value, name: capital(value) }))}
          />
          <div className={s.pair}>
            {lengths.map(([key, label]) => (
              <NumberField
                key={key}
                label={label}
                unit="mm"
                value={typed[key]}
                error={wrong[key]}
                onChange={(event) => setTyped((now) => ({ ...now, [key]: event.target.value }))}
              />
            ))}
          </div>
          <div className={s.pair}>
            <TextField label="Bared to" value={bared} onChange={(event) => setBared(event.target.value)} />
            <NumberField
              label="Blisters seen"
              inputMode="numeric"
              value={seen}
              error={wrong.seen}
              onChange={(event) => setSeen(event.target.value)}
            />
          </div>
          <TextField
            label="Made good"
            placeholder="by the yard, epoxy and antifouling"
            value={good}
            onChange={(event) => setGood(event.target.value)}
          />
          {field}
          <div>
            <button type="submit" className="act" disabled={fetching || !known}>
              Write down
            </button>
          </div>
        </form>
      </Sheet>
    </>
  )
}
