import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import { HaulOutChoicesDocument, PlanLiftDocument } from '../../graphql/gen/graphql'
import { zoneName } from '../../model/dates'
import { newId } from '../../model/id'
import { Combo } from '../../ui/Combo'
import { SelectField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import { instantTyped, type Typed, When } from './When'
import s from './yards.module.css'

export const helds = ['', 'slings', 'props', 'cradle', 'shed', 'dock'] as const

/** Plans a time ashore: who is lifted, where, when, and until when. */
export function PlanLift({
  vessel,
  yard,
  onClose,
  onDone,
}: {
  vessel?: { id: string; name: string }
  yard?: string
  onClose: () => void
  onDone: (spell: string) => void
}) {
  const practice = useViewer()?.practice.timeZone ?? 'UTC'
  const [id] = useState(() => newId('spl'))
  const [find, setFind] = useState('')
  const [{ data }] = useQuery({ query: HaulOutChoicesDocument, variables: { find: find || null } })
  const [boat, setBoat] = useState(vessel?.id ?? '')
  const [where, setWhere] = useState(yard ?? '')
  const [lift, setLift] = useState<Typed>({ day: null, time: '09:00' })
  const [launch, setLaunch] = useState<Typed>({ day: null, time: '' })
  const [held, setHeld] = useState('')
  const [asked, setAsked] = useState(true)
  const [{ fetching, error }, plan] = useMutation(PlanLiftDocument)
  const yards = (data?.parties.edges ?? []).map(({ node }) => node)
  const zone = yards.find(({ id }) => id === where)?.timeZone || practice
  const times = { lift: instantTyped(lift, zone), launch: instantTyped(launch, zone) }
  const ready = boat && times.lift && times.launch !== undefined

  async function send(event: FormEvent) {
    event.preventDefault()
    if (!ready) return
    const { data } = await plan({
      input: {
        mutation: newId('mut'),
        id,
        vessel: boat,
        yard: where || null,
        timeZone: zone,
        plannedLift: times.lift ?? null,
        plannedLaunch: times.launch ?? null,
        held,
        askedOnly: asked,
      },
    })
    if (!data) return
    onDone(id)
    onClose()
  }

  return (
    <Sheet title={vessel ? `Plan a lift of ${vessel.name}` : 'Plan a lift'} open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {!vessel && (
          <Combo
            label="Boat"
            items={(data?.vessels.edges ?? []).map(({ node }) => node)}
            onInputChange={setFind}
            onSelectionChange={(key) => setBoat(key ? String(key) : '')}
          />
        )}
        <div className="fields">
          <SelectField label="Yard" value={where} onChange={(event) => setWhere(event.target.value)}>
            <option value="">not stated</option>
            {yards.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </SelectField>
          <SelectField label="Held" value={held} onChange={(event) => setHeld(event.target.value)}>
            {helds.map((word) => (
              <option key={word} value={word}>
                {word || 'not known'}
              </option>
            ))}
          </SelectField>
        </div>
        <When label="Lift" value={lift} onChange={setLift} />
        <When label="Launch" value={launch} onChange={setLaunch} help="Empty: not known yet." />
        <Notice>
          Times are those of {where ? 'the yard' : 'the practice'} ({zoneName(zone)}). The yard lifts, chocks and moves
          her; nobody works under a boat that hangs in slings alone.
        </Notice>
        <Tick checked={asked} onChange={setAsked}>
          Asked of the yard, and not yet agreed
        </Tick>
        {error && <Failed error={error} />}
        <div>
          <button type="submit" className="act" disabled={fetching || !ready}>
            Plan it
          </button>
        </div>
      </form>
    </Sheet>
  )
}
