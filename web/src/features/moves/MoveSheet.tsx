import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { read } from '../../graphql/gen'
import {
  ApplyMoveDocument,
  ApplyWashDocument,
  CheckLineFragmentDoc,
  type MoveBodyFragment,
  MoveBodyFragmentDoc,
  MoveOfDocument,
  type MoveOfQuery,
  PlanMoveDocument,
  PlanWashDocument,
} from '../../graphql/gen/graphql'
import { clockTime, dayIn, dayTime, instantOf, timeIn, wholeDay, zoneName } from '../../model/dates'
import { newId } from '../../model/id'
import { capital, plural } from '../../model/words'
import { DateField } from '../../ui/DateField'
import { TextArea, TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import s from './moves.module.css'
import { owes, Stands } from './Stands'
import { UndoMove } from './UndoMove'

type Of = NonNullable<MoveOfQuery['haulOut']>
type What = 'lift' | 'wash'

const slotWords: Record<string, string> = { wash: 'wash', chock: 'chocking', shift: 'move within the yard' }

/**
 * A lift, or a wash, goes to another time: what follows from it is proposed anew, each line accepted or kept,
 * and all of it is one change that is taken back as one.
 */
export function MoveSheet({
  spell,
  what = 'lift',
  day,
  onClose,
  onDone,
}: {
  spell: string
  what?: What
  /** The day it is to go to, where that is known already. */
  day?: string | undefined
  onClose: () => void
  /** After it was moved, and after it was taken back. */
  onDone: () => void
}) {
  const [{ data, error }, again] = useQuery({
    query: MoveOfDocument,
    variables: { spell },
    requestPolicy: 'cache-and-network',
  })
  const [moved, setMoved] = useState<string | null>(null)
  return (
    <Sheet title={`Move the ${what}`} open onClose={onClose} wide>
      {moved ? (
        <Moved move={moved} what={what} onClose={onClose} onDone={onDone} />
      ) : (
        <Answer data={data?.haulOut} error={error} again={again}>
          {(of) => (
            <Form
              of={of}
              what={what}
              day={day}
              onMoved={(move) => {
                setMoved(move)
                onDone()
              }}
            />
          )}
        </Answer>
      )}
    </Sheet>
  )
}

function Moved({ move, what, onClose, onDone }: { move: string; what: What; onClose: () => void; onDone: () => void }) {
  return (
    <div className={s.form}>
      <Notice>
        The {what} is moved, with what was accepted, as one change. Whom it concerns is told by mail, once. Until
        something of it is touched it can be taken back as a whole, here or from the board.
      </Notice>
      <div className="buttons">
        <button type="button" className="act" onClick={onClose}>
          Good
        </button>
        <UndoMove
          move={move}
          onDone={() => {
            onDone()
            onClose()
          }}
        />
      </div>
    </div>
  )
}

function Form({
  of,
  what,
  day: first,
  onMoved,
}: {
  of: Of
  what: What
  day: string | undefined
  onMoved: (move: string) => void
}) {
  const { slot } = of
  const zone = slot.timeZone
  const stands = what === 'lift' ? slot.plannedLift : slot.washAt
  const from = stands ?? slot.plannedLift ?? slot.actualLift ?? ''
  const [day, setDay] = useState<string | null>(first ?? (from ? dayIn(from, zone) : null))
  const [time, setTime] = useState(from ? timeIn(from, zone) : '09:00')
  const at = wholeDay(day) && clockTime(time) ? instantOf(day, clockTime(time) ?? '', zone) : null
  const changed = at !== null && (!stands || Date.parse(at) !== Date.parse(stands))
  if (what === 'lift' && slot.actualLift)
    return (
      <Notice bad>
        She was lifted on {dayTime(slot.actualLift, zone)}: a lift that was cannot be moved. Change the visits one by
        one.
      </Notice>
    )
  return (
    <div className={s.form}>
      <p>
        <b>{slot.vesselName}</b>
        {of.yard && ` at ${of.yard.yard.name}`}:{' '}
        {stands ? `the ${what} is planned for ${dayTime(stands, zone)}` : `no ${what} is planned yet`}. Times are those
        of the yard ({zoneName(zone)}).
      </p>
      <div className="fields">
        <DateField label={`${capital(what)} on`} value={day} onChange={setDay} />
        <TextField
          label="At"
          value={time}
          onChange={(event) => setTime(event.target.value)}
          error={clockTime(time) ? undefined : 'as 09:00'}
          autoComplete="off"
        />
      </div>
      {!changed && <p className="note">Give another day or time to see what follows from it.</p>}
      {changed && at && <Plan key={at} of={of} what={what} at={at} onMoved={onMoved} />}
    </div>
  )
}

function Plan({ of, what, at, onMoved }: { of: Of; what: What; at: string; onMoved: (move: string) => void }) {
  const spell = of.slot.id
  const [lift, askLift] = useQuery({
    query: PlanMoveDocument,
    variables: { spell, newLift: at },
    pause: what !== 'lift',
    requestPolicy: 'network-only',
  })
  const [wash, askWash] = useQuery({
    query: PlanWashDocument,
    variables: { spell, newWash: at },
    pause: what !== 'wash',
    requestPolicy: 'network-only',
  })
  const plan = read(MoveBodyFragmentDoc, what === 'lift' ? lift.data?.planMove : wash.data?.planWash)
  return (
    <Answer
      data={plan}
      error={lift.error ?? wash.error}
      again={() =>
        what === 'lift' ? askLift({ requestPolicy: 'network-only' }) : askWash({ requestPolicy: 'network-only' })
      }
    >
      {(plan) => <Accept of={of} what={what} at={at} plan={plan} onMoved={onMoved} />}
    </Answer>
  )
}

function Accept({
  of,
  what,
  at,
  plan,
  onMoved,
}: {
  of: Of
  what: What
  at: string
  plan: MoveBodyFragment
  onMoved: (move: string) => void
}) {
  const zone = of.slot.timeZone
  const [id] = useState(() => newId('mve'))
  const [kept, setKept] = useState<ReadonlySet<string>>(new Set())
  const [reason, setReason] = useState('')
  const [tell, setTell] = useState({ client: true, yard: true })
  const [applied, applyMove] = useMutation(ApplyMoveDocument)
  const [washed, applyWash] = useMutation(ApplyWashDocument)
  const flip = (id: string) =>
    setKept((now) => {
      const next = new Set(now)
      if (!next.delete(id)) next.add(id)
      return next
    })
  const going = plan.lines.filter(({ from, newFrom }) => from !== newFrom)
  const lines = going.filter(({ visit }) => !kept.has(visit.id))
  const slot = plan.slot.filter((line) => !kept.has(line.what))
  const count = lines.length + slot.length
  const owed = lines.some(({ conflicts }) => read(CheckLineFragmentDoc, conflicts).some(owes))

  async function send(event: FormEvent) {
    event.preventDefault()
    const input = {
      mutation: newId('mut'),
      id,
      spell: plan.spell.id,
      reason: reason.trim(),
      tellClient: tell.client,
      tellYard: tell.yard,
      lines: lines.map(({ visit, newFrom, newTo }) => ({
        visit: visit.id,
        version: visit.version,
        from: newFrom,
        to: newTo,
      })),
    }
    const { data } =
      what === 'lift'
        ? await applyMove({
            input: {
              ...input,
              version: plan.spell.version,
              newLift: plan.newLift,
              newLaunch: plan.newLaunch ?? null,
              slot: slot.map((line) => ({ what: line.what, at: line.newAt })),
            },
          })
        : await applyWash({ input: { ...input, newWash: at } })
    if (data) onMoved(id)
  }

  const fault = applied.error ?? washed.error
  return (
    <form className={s.form} noValidate onSubmit={send}>
      {plan.conflicts.map((text) => (
        <Notice key={text} bad>
          {text}
        </Notice>
      ))}
      <section>
        <h3>What follows</h3>
        {plan.slot.length + plan.lines.length === 0 && (
          <p className="note">Nothing planned hangs on this {what}. It is moved alone.</p>
        )}
        <ul className={s.lines}>
          {plan.slot.map((line) => (
            <li key={line.what}>
              <Tick checked={!kept.has(line.what)} onChange={() => flip(line.what)}>
                <b>{capital(slotWords[line.what] ?? line.what)}</b>{' '}
                <span className={s.was}>{dayTime(line.at, zone)}</span> {dayTime(line.newAt, zone)}
              </Tick>
              <p className="small note">{line.reason}</p>
              {kept.has(line.what) && line.mustMove && <Outside />}
            </li>
          ))}
          {plan.lines
            .filter((line) => !going.includes(line))
            .map((line) => (
              <li key={line.visit.id}>
                <b>{capital(line.visit.kind)}</b> stays on {dayTime(line.from, zone)}
                <Stands checks={line.conflicts} />
              </li>
            ))}
          {going.map((line) => (
            <li key={line.visit.id}>
              <Tick checked={!kept.has(line.visit.id)} onChange={() => flip(line.visit.id)}>
                <b>{line.visit.open ? capital(line.visit.kind) : 'A visit of another job'}</b>{' '}
                <span className={s.was}>{dayTime(line.from, zone)}</span> {dayTime(line.newFrom, zone)}
              </Tick>
              <p className="small note">{line.reason}</p>
              {kept.has(line.visit.id) ? line.mustMove && <Outside /> : <Stands checks={line.conflicts} />}
            </li>
          ))}
        </ul>
        {plan.newLaunch && what === 'lift' && (
          <p className="small note" style={{ paddingTop: 6 }}>
            The launch goes to {dayTime(plan.newLaunch, zone)}, as many days later.
          </p>
        )}
      </section>
      <TextArea
        label="Why"
        rows={2}
        value={reason}
        onChange={(event) => setReason(event.target.value)}
        error={
          owed && !reason.trim() ? 'Say why all the same: something stands against a visit where it goes.' : undefined
        }
        help="Told to the members whose visits move; neither to client nor yard. It stays with what is let pass."
      />
      <div>
        <Tick checked={tell.client} onChange={(client) => setTell({ ...tell, client })}>
          Write to the client: one letter, with his or her own visits alone
        </Tick>
        <Tick checked={tell.yard} onChange={(yard) => setTell({ ...tell, yard })}>
          Write to the yard: one letter, with its own times alone
        </Tick>
      </div>
      {fault && <Failed error={fault} />}
      <div>
        <button
          type="submit"
          className="act"
          disabled={applied.fetching || washed.fetching || plan.conflicts.length > 0 || (owed && !reason.trim())}
        >
          {count ? `Move the ${what} and ${plural(count, 'thing')} with it` : `Move the ${what} alone`}
        </button>
      </div>
    </form>
  )
}

function Outside() {
  return <p className={`small ${s.soft}`}>Left where it is it would lie outside her time ashore.</p>
}
