import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import { AddSpellDocument, LiftChoicesDocument } from '../../graphql/gen/graphql'
import { instantOf } from '../../model/dates'
import { newId } from '../../model/id'
import { DateField } from '../../ui/DateField'
import { SelectField, TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import s from './jobs.module.css'

const clock = /^([01]?\d|2[0-3])[:.][0-5]\d$/

/** A time ashore that is planned or asked for: all visits of the job hang on its lift. */
export function PlanLift({ vessel, onDone }: { vessel: { id: string; name: string }; onDone: () => void }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Plan her lift
      </button>
      <Sheet title={`${vessel.name}, ashore`} open={open} onClose={() => setOpen(false)}>
        {open && (
          <Form
            vessel={vessel.id}
            onDone={() => {
              setOpen(false)
              onDone()
            }}
          />
        )}
      </Sheet>
    </>
  )
}

function Form({ vessel, onDone }: { vessel: string; onDone: () => void }) {
  const viewer = useViewer()
  const [{ data }] = useQuery({ query: LiftChoicesDocument })
  const yards = (data?.parties.edges ?? []).map(({ node }) => node)
  const [chosen, setChosen] = useState<string | null>(null)
  const yard = yards.find(({ id }) => id === chosen) ?? yards[0]
  const zone = yard?.timeZone || (viewer?.practice.timeZone ?? 'UTC')
  const [lift, setLift] = useState<{ day: string | null; time: string }>({ day: null, time: '10:00' })
  const [launch, setLaunch] = useState<{ day: string | null; time: string }>({ day: null, time: '14:00' })
  const [held, setHeld] = useState('')
  const [asked, setAsked] = useState(true)
  const [wrong, setWrong] = useState<{ lift?: string; launch?: string }>({})
  const [{ fetching, error }, add] = useMutation(AddSpellDocument)
  const instant = ({ day, time }: typeof lift) => (day ? instantOf(day, time.replace('.', ':'), zone) : null)

  async function send(event: FormEvent) {
    event.preventDefault()
    const faults = {
      ...(lift.day ? (clock.test(lift.time) ? {} : { lift: 'as 10:00' }) : { lift: 'give the day of the lift' }),
      ...(launch.day && !clock.test(launch.time) ? { launch: 'as 14:00' } : {}),
    }
    setWrong(faults)
    if (faults.lift || faults.launch) return
    const { data } = await add({
      input: {
        mutation: newId('mut'),
        id: newId('spl'),
        vessel,
        yard: yard?.id ?? null,
        timeZone: zone,
        plannedLift: instant(lift),
        plannedLaunch: instant(launch),
        held,
        askedOnly: asked,
      },
    })
    if (data) onDone()
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <SelectField label="Yard" value={yard?.id ?? ''} onChange={(event) => setChosen(event.target.value)}>
        {yards.map(({ id, name }) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </SelectField>
      <div className={s.when}>
        <DateField label="Lift on" value={lift.day} onChange={(day) => setLift((now) => ({ ...now, day }))} />
        <TextField
          label="at"
          value={lift.time}
          error={wrong.lift}
          onChange={(event) => setLift((now) => ({ ...now, time: event.target.value }))}
        />
        <DateField
          label="Launch on, if known"
          value={launch.day}
          onChange={(day) => setLaunch((now) => ({ ...now, day }))}
        />
        <TextField
          label="at"
          value={launch.time}
          error={wrong.launch}
          onChange={(event) => setLaunch((now) => ({ ...now, time: event.target.value }))}
        />
      </div>
      <SelectField label="Held by" value={held} onChange={(event) => setHeld(event.target.value)}>
        {['', 'slings', 'props', 'cradle', 'shed', 'dock'].map((name) => (
          <option key={name} value={name}>
            {name || 'not known yet'}
          </option>
        ))}
      </SelectField>
      <Tick checked={asked} onChange={setAsked}>
        Asked of the yard, not agreed yet
      </Tick>
      <Notice>
        Times are the yard’s ({zone}). The yard lifts, chocks and moves her; nobody works under a boat that hangs in
        slings alone.
      </Notice>
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Plan it
        </button>
      </div>
    </form>
  )
}
