import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { type BoardSpellRowFragment, DescribeSlotDocument, EditHaulOutDocument } from '../../graphql/gen/graphql'
import { zoneName } from '../../model/dates'
import { newId } from '../../model/id'
import { SelectField, TextArea, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import { helds } from './PlanLift'
import { instantTyped, typed, When } from './When'
import s from './yards.module.css'

/** What has been of a haul-out, and how she stands. A planned lift is moved, with what hangs on it, and not here. */
export function EditHaulOut({
  slot,
  notes,
  onClose,
  onDone,
}: {
  slot: BoardSpellRowFragment
  notes: string
  onClose: () => void
  onDone: () => void
}) {
  const zone = slot.timeZone
  const [times, setTimes] = useState({
    plannedLaunch: typed(slot.plannedLaunch, zone),
    actualLift: typed(slot.actualLift, zone),
    washedAt: typed(slot.washedAt, zone),
    actualLaunch: typed(slot.actualLaunch, zone),
  })
  const [held, setHeld] = useState(slot.held)
  const [cover, setCover] = useState(slot.underCover ?? false)
  const [asked, setAsked] = useState(slot.askedOnly)
  const [said, setSaid] = useState(notes)
  const [{ fetching, error }, edit] = useMutation(EditHaulOutDocument)
  const at = Object.fromEntries(Object.entries(times).map(([name, value]) => [name, instantTyped(value, zone)]))
  const half = Object.values(at).includes(undefined)
  const field = (name: keyof typeof times, label: string) => (
    <When label={label} value={times[name]} onChange={(value) => setTimes({ ...times, [name]: value })} />
  )

  async function send(event: FormEvent) {
    event.preventDefault()
    // What is left empty stays as it is: a time that was cannot be taken away here.
    const given = Object.fromEntries(Object.entries(at).filter(([, value]) => value))
    const { data } = await edit({
      input: {
        mutation: newId('mut'),
        id: slot.id,
        version: slot.version,
        ...given,
        held,
        underCover: cover,
        askedOnly: asked,
        notes: said,
      },
    })
    if (!data) return
    onDone()
    onClose()
  }

  return (
    <Sheet title={`${slot.vesselName} ashore`} open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {field('actualLift', 'Lifted')}
        {field('washedAt', 'Washed')}
        {field('plannedLaunch', 'Launch planned')}
        {field('actualLaunch', 'Launched')}
        <p className="small note">Times are those of the yard ({zoneName(zone)}).</p>
        <SelectField label="Held" value={held} onChange={(event) => setHeld(event.target.value)}>
          {helds.map((word) => (
            <option key={word} value={word}>
              {word || 'not known'}
            </option>
          ))}
        </SelectField>
        <Tick checked={cover} onChange={setCover}>
          Under cover
        </Tick>
        <Tick checked={asked} onChange={setAsked}>
          Asked of the yard, and not yet agreed
        </Tick>
        <TextArea label="Notes" rows={2} value={said} onChange={(event) => setSaid(event.target.value)} />
        {error && <Failed error={error} />}
        <div>
          <button type="submit" className="act" disabled={fetching || half}>
            Keep
          </button>
        </div>
      </form>
    </Sheet>
  )
}

/** What the yard does beside lift and launch, who pays it, and what it needs to know. */
export function EditSlot({
  slot,
  onClose,
  onDone,
}: {
  slot: BoardSpellRowFragment
  onClose: () => void
  onDone: () => void
}) {
  const zone = slot.timeZone
  const [wash, setWash] = useState(typed(slot.washAt, zone))
  const [chock, setChock] = useState(typed(slot.chockAt, zone))
  const [shift, setShift] = useState(typed(slot.shiftAt, zone))
  const [pays, setPays] = useState(slot.pays)
  const [told, setTold] = useState(slot.told)
  const [{ fetching, error }, describe] = useMutation(DescribeSlotDocument)
  const at = [wash, chock, shift].map((value) => instantTyped(value, zone))

  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await describe({
      input: {
        mutation: newId('mut'),
        spell: slot.id,
        washAt: at[0] ?? null,
        chockAt: at[1] ?? null,
        shiftAt: at[2] ?? null,
        pays: pays.trim(),
        told: told.trim(),
      },
    })
    if (!data) return
    onDone()
    onClose()
  }

  return (
    <Sheet title={`What the yard does for ${slot.vesselName}`} open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {!slot.washAt && <When label="Wash" value={wash} onChange={setWash} />}
        <When label="Chocks" value={chock} onChange={setChock} />
        <When label="Move within the yard" value={shift} onChange={setShift} />
        <TextField label="Who pays" value={pays} onChange={(event) => setPays(event.target.value)} />
        <TextArea
          label="What the yard needs to know"
          value={told}
          onChange={(event) => setTold(event.target.value)}
          help="Shown by its link: draught, keel, where slings go, when the survey is."
        />
        <p className="small note">Times are those of the yard ({zoneName(zone)}).</p>
        {error && <Failed error={error} />}
        <div>
          <button type="submit" className="act" disabled={fetching || at.includes(undefined)}>
            Keep
          </button>
        </div>
      </form>
    </Sheet>
  )
}
