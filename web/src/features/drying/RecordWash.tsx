import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { RecordWashDocument } from '../../graphql/gen/graphql'
import { dayIn, instantOf } from '../../model/dates'
import { newId } from '../../model/id'
import { parseTenths } from '../../model/number'
import { ChoiceField } from '../../ui/Choice'
import { DateField } from '../../ui/DateField'
import { NumberField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './drying.module.css'

type How = 'fresh' | 'hot' | 'steam'

const blank = { ph: '', off: '', supply: '', ml: '', mm2: '', extent: '', note: '' }

/** Tenths of what was typed; null for an empty field, undefined where it is no number. */
function tenths(text: string): number | null | undefined {
  if (!text.trim()) return null
  const parsed = parseTenths(text)
  return parsed.ok ? parsed.value : undefined
}

/** A wash of the bared laminate, with what its water showed. Volume and area always go together. */
export function RecordWash({ job, zone }: { job: string; zone: string }) {
  const [open, setOpen] = useState(false)
  const [how, setHow] = useState<How>('hot')
  const [on, setOn] = useState<string | null>(() => dayIn(Date.now(), zone))
  const [said, setSaid] = useState(blank)
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, record] = useMutation(RecordWashDocument)
  const put = (field: keyof typeof blank) => (event: { target: { value: string } }) =>
    setSaid((now) => ({ ...now, [field]: event.target.value }))
  const figures = {
    ph: tenths(said.ph),
    off: tenths(said.off),
    supply: tenths(said.supply),
    ml: tenths(said.ml),
    mm2: tenths(said.mm2),
  }
  const wrong = (figure: number | null | undefined) => (tried && figure === undefined ? 'Give a number' : undefined)
  const alone = (figures.ml === null) !== (figures.mm2 === null)
  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    const { ph, off, supply, ml, mm2 } = figures
    if (
      !on ||
      alone ||
      ph === undefined ||
      off === undefined ||
      supply === undefined ||
      ml === undefined ||
      mm2 === undefined
    )
      return
    const { data } = await record({
      input: {
        mutation: newId('mut'),
        id: newId('wsh'),
        job,
        at: instantOf(on, '12:00', zone),
        how,
        extent: said.extent.trim(),
        phTenths: ph,
        conductivityTenths: off,
        supplyTenths: supply,
        volumeUl: ml === null ? null : ml * 100,
        areaMm2: mm2 === null ? null : Math.round(mm2 / 10),
        note: said.note.trim(),
      },
    })
    if (data) {
      setSaid(blank)
      setTried(false)
      setOpen(false)
    }
  }
  return (
    <>
      <button type="button" className="plain no-print" onClick={() => setOpen(true)}>
        Write down a wash
      </button>
      <Sheet title="A wash" open={open} onClose={() => setOpen(false)}>
        <form className={s.form} noValidate onSubmit={send}>
          {error && <Failed error={error} />}
          <ChoiceField
            label="How"
            value={how}
            onChange={setHow}
            options={[
              { value: 'fresh', name: 'Fresh' },
              { value: 'hot', name: 'Hot' },
              { value: 'steam', name: 'Steam' },
            ]}
          />
          <div className="fields">
            <DateField label="On" value={on} onChange={setOn} />
            <TextField label="Where" placeholder="port 9 to 11" value={said.extent} onChange={put('extent')} />
          </div>
          <div className="fields">
            <NumberField label="pH of the water" value={said.ph} onChange={put('ph')} error={wrong(figures.ph)} />
            <NumberField
              label="Its conductivity"
              unit="µS/cm"
              value={said.off}
              onChange={put('off')}
              error={wrong(figures.off)}
            />
            <NumberField
              label="Of the supply"
              unit="µS/cm"
              value={said.supply}
              onChange={put('supply')}
              error={wrong(figures.supply)}
            />
          </div>
          <div className="fields">
            <NumberField
              label="Water tested"
              unit="mL"
              value={said.ml}
              onChange={put('ml')}
              error={wrong(figures.ml) ?? (tried && alone ? 'Volume and area go together' : undefined)}
            />
            <NumberField
              label="Skin it stood on"
              unit="mm²"
              value={said.mm2}
              onChange={put('mm2')}
              error={wrong(figures.mm2)}
            />
          </div>
          <TextField label="Note" value={said.note} onChange={put('note')} />
          <div>
            <button type="submit" className="act" disabled={fetching}>
              Write down
            </button>
          </div>
        </form>
      </Sheet>
    </>
  )
}
