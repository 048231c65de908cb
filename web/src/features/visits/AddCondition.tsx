import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { RecordConditionDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { parseQuantity } from '../../model/number'
import { Choice } from '../../ui/Choice'
import { NumberField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './visit.module.css'

const numbers = [
  ['air', 'Air', '°C'],
  ['humidity', 'Relative humidity', '%'],
  ['skinPort', 'Skin, port', '°C'],
  ['skinStarboard', 'Skin, starboard', '°C'],
  ['inside', 'Humidity inside', '%'],
] as const
const words = [
  ['sun', 'Sun', 'starboard side from ten'],
  ['wind', 'Wind', 'light, north-east'],
  ['rain', 'Rain in the last 72 hours', 'none'],
  ['tank', 'Tanks', 'water full, fuel half'],
  ['bilge', 'Bilge', '20 mm'],
  ['heating', 'Heating', 'off since Thursday night'],
] as const
type Name = (typeof numbers)[number][0] | (typeof words)[number][0]

/** What air, skin and boat were like now. What is left empty stays not known. */
export function AddCondition({ visit, again, name }: { visit: string; again: boolean; name?: string }) {
  const [open, setOpen] = useState(false)
  const [said, setSaid] = useState<Partial<Record<Name, string>>>({})
  const [indoors, setIndoors] = useState<'in' | 'out' | null>(null)
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, record] = useMutation(RecordConditionDocument)

  const put = (field: Name, value: string) => setSaid((now) => ({ ...now, [field]: value }))
  /** Tenths, or null where empty; text where it is not a number in the range. */
  const number = (field: Name, least: number, most: number): number | null | string => {
    const text = said[field]?.trim()
    if (!text) return null
    const parsed = parseQuantity(text, 1)
    if (!parsed.ok) return parsed.why
    return parsed.value < least || parsed.value > most ? `between ${least} and ${most}` : Math.round(parsed.value * 10)
  }
  const read = {
    air: number('air', -40, 60),
    humidity: number('humidity', 0, 100),
    skinPort: number('skinPort', -40, 90),
    skinStarboard: number('skinStarboard', -40, 90),
    inside: number('inside', 0, 100),
  }
  const wrong = (name: keyof typeof read) =>
    tried && typeof read[name] === 'string' ? (read[name] as string) : undefined

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (Object.values(read).some((v) => typeof v === 'string')) return
    const { data } = await record(
      {
        input: {
          mutation: newId('mut'),
          id: newId('cnd'),
          visit,
          at: new Date().toISOString(),
          airDecidegrees: read.air as number | null,
          humidityPermille: read.humidity as number | null,
          skinPortDecidegrees: read.skinPort as number | null,
          skinStarboardDecidegrees: read.skinStarboard as number | null,
          insideHumidityPermille: read.inside as number | null,
          sun: said.sun ?? '',
          wind: said.wind ?? '',
          rainLast72h: said.rain ?? '',
          tankLevel: said.tank ?? '',
          bilgeLevel: said.bilge ?? '',
          heating: said.heating ?? '',
          indoors: indoors === null ? null : indoors === 'in',
        },
      },
      { additionalTypenames: ['Visit'] },
    )
    if (!data) return
    setOpen(false)
    setSaid({})
    setTried(false)
  }

  return (
    <>
      <button type="button" className={again || name ? 'plain' : 'act'} onClick={() => setOpen(true)}>
        {name ?? (again ? 'Write them down again' : 'Write them down')}
      </button>
      <Sheet title="Conditions now" open={open} onClose={() => setOpen(false)}>
        <form className={s.form} noValidate onSubmit={send}>
          {error && <Failed error={error} />}
          <div className="fields">
            {numbers.map(([name, label, unit]) => (
              <NumberField
                key={name}
                label={label}
                unit={unit}
                value={said[name] ?? ''}
                onChange={(event) => put(name, event.target.value)}
                error={wrong(name)}
              />
            ))}
          </div>
          <div className="field">
            <span className="label">Where she stands</span>
            <div>
              <Choice
                roomy
                label="Where she stands"
                value={indoors}
                onChange={setIndoors}
                options={[
                  { value: 'out', name: 'In the open' },
                  { value: 'in', name: 'Indoors' },
                ]}
              />
            </div>
          </div>
          <div className="fields">
            {words.map(([name, label, hint]) => (
              <TextField
                key={name}
                label={label}
                placeholder={hint}
                value={said[name] ?? ''}
                onChange={(event) => put(name, event.target.value)}
              />
            ))}
          </div>
          <p className="small note">Left empty means not known, and the pass says so. Nothing is guessed.</p>
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
