import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { useMay } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import {
  DraftDangerNoticeDocument,
  type FollowThroughBodyFragment,
  SendDangerNoticeDocument,
} from '../../graphql/gen/graphql'
import { clock, clockTime, dayIn, instantOf, shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { SelectField, TextArea, TextField } from '../../ui/Field'
import { forgetTyped, useTyped } from '../../ui/useTyped'
import s from './followthrough.module.css'

type Notice = FollowThroughBodyFragment['dangers'][number]

const roles = ['owner', 'client', 'yard', 'on board', 'harbour', 'other'] as const
const hows = ['in person', 'by telephone', 'by radio'] as const

/** Danger now: tell the people first, then in writing, about this and nothing else. */
export function Danger({ recommendation, notices }: { recommendation: string; notices: readonly Notice[] }) {
  const [{ fetching, error }, draft] = useMutation(DraftDangerNoticeDocument)
  const open = notices.find(({ sentAt }) => !sentAt)
  return (
    <section className={s.danger}>
      <h3>Notice of the danger</h3>
      {error && <Failed error={error} />}
      {notices
        .filter(({ sentAt }) => sentAt)
        .map((notice) => (
          <Sent key={notice.id} notice={notice} />
        ))}
      {open ? (
        <Send key={open.id} notice={open} />
      ) : (
        <>
          <p className="note">
            Speak to owner and yard at once, in person or by telephone. Then send it in writing: a notice of this danger
            alone.
          </p>
          <div>
            <button
              type="button"
              className="act"
              disabled={fetching}
              onClick={() => draft({ input: { mutation: newId('mut'), id: newId('dng'), recommendation } })}
            >
              {notices.length > 0 ? 'Draft another notice' : 'Draft a notice'}
            </button>
          </div>
        </>
      )}
    </section>
  )
}

function Sent({ notice }: { notice: Notice }) {
  return (
    <div>
      <p>
        <b>Sent</b> {notice.sentAt && `${shortDay(notice.sentAt)}, ${clock(notice.sentAt)},`} by {notice.sentBy}.
      </p>
      <p className={s.notice}>{notice.text}</p>
      <ul className="plain-list small">
        {notice.told.map((who) => (
          <li key={who.name + who.role}>
            {who.name}, {who.role}:{' '}
            {who.spokenAt ? `spoken to ${who.how}, ${shortDay(who.spokenAt)}, ${clock(who.spokenAt)}` : 'in writing'}
            {who.spokenAt && who.email && ', then in writing'}
          </li>
        ))}
      </ul>
    </div>
  )
}

interface Spoken {
  name: string
  role: (typeof roles)[number]
  how: (typeof hows)[number]
  /** Time of day on this device, as typed. */
  when: string
  email: string
}
type Wrong = Partial<Record<'name' | 'when', string>>

const somebody = (role: Spoken['role']): Spoken => ({ name: '', role, how: 'in person', when: '', email: '' })

/** The instant of a time of today on this device; null where none was typed that is one. */
function spokenAt(when: string): string | null {
  const time = clockTime(when)
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone
  return time && instantOf(dayIn(Date.now(), zone), time, zone)
}

/** Whom it is sent to: everybody who was spoken to, each with how and when. Only who issues reports sends it. */
function Send({ notice }: { notice: Notice }) {
  const typedAs = `danger/${notice.id}.${notice.version}`
  const [text, setText] = useTyped(typedAs, notice.text)
  const [people, setPeople] = useTyped<Spoken[]>(`${typedAs}/told`, [somebody('yard')])
  const [wrong, setWrong] = useState<Wrong[]>([])
  const [{ fetching, error }, send] = useMutation(SendDangerNoticeDocument)
  const may = useMay('issue')
  function put(k: number, change: Partial<Spoken>) {
    setPeople((now) => now.map((each, n) => (n === k ? { ...each, ...change } : each)))
    setWrong((now) => now.map((fault, n) => (n === k ? {} : fault)))
  }

  async function go(event: FormEvent) {
    event.preventDefault()
    const faults = people.map(({ name, when }): Wrong => {
      const at = spokenAt(when)
      return {
        ...(name.trim() ? {} : { name: 'Say whom you spoke to.' }),
        ...(!at
          ? { when: 'The time of day, such as 14:05.' }
          : Date.parse(at) > Date.now() + 60_000
            ? { when: 'This lies ahead. Say when you spoke.' }
            : {}),
      }
    })
    setWrong(faults)
    if (faults.some((fault) => fault.name || fault.when)) return
    const { data } = await send({
      input: {
        mutation: newId('mut'),
        id: notice.id,
        version: notice.version,
        text: text.trim(),
        told: people.map(({ name, role, how, when, email }) => ({
          name: name.trim(),
          role,
          how,
          spokenAt: spokenAt(when),
          email: email.trim(),
        })),
      },
    })
    if (data) forgetTyped(typedAs)
  }

  return (
    <form className={s.form} noValidate onSubmit={go}>
      {error && <Failed error={error} />}
      <TextArea label="The notice" rows={10} value={text} onChange={(event) => setText(event.target.value)} />
      {people.map((person, k) => (
        <Person
          key={k}
          nth={k}
          person={person}
          wrong={wrong[k] ?? {}}
          onChange={(change) => put(k, change)}
          onTakeOff={people.length > 1 ? () => setPeople((now) => now.filter((_, n) => n !== k)) : null}
        />
      ))}
      <div>
        <button
          type="button"
          className="plain"
          disabled={people.length >= mostTold}
          onClick={() => setPeople((now) => [...now, somebody(roles.find((role) => !named(now, role)) ?? 'other')])}
        >
          Spoken to somebody else too
        </button>
      </div>
      <p className="note">The client gets it too. Whom you spoke to, when and how stays with it.</p>
      {may ? (
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Spoken to; send it
          </button>
        </div>
      ) : (
        <p role="status">
          It is drafted and waits here. Ring a surveyor of the practice at once: whoever issues reports sends it.
        </p>
      )}
    </form>
  )
}

/** The service takes so many. */
const mostTold = 10
const named = (people: readonly Spoken[], role: string) => people.some((each) => each.role === role)

function Person({
  nth,
  person,
  wrong,
  onChange,
  onTakeOff,
}: {
  nth: number
  person: Spoken
  wrong: Wrong
  onChange: (change: Partial<Spoken>) => void
  onTakeOff: (() => void) | null
}) {
  return (
    <fieldset className={s.person} aria-label={`Spoken to, ${nth + 1}`}>
      <div className={s.pair}>
        <TextField
          label="You have spoken to"
          value={person.name}
          error={wrong.name}
          autoComplete="off"
          onChange={(event) => onChange({ name: event.target.value })}
        />
        <SelectField
          label="Who is"
          value={person.role}
          onChange={(event) => onChange({ role: event.target.value as Spoken['role'] })}
        >
          {roles.map((each) => (
            <option key={each}>{each}</option>
          ))}
        </SelectField>
        <SelectField
          label="How"
          value={person.how}
          onChange={(event) => onChange({ how: event.target.value as Spoken['how'] })}
        >
          {hows.map((each) => (
            <option key={each}>{each}</option>
          ))}
        </SelectField>
        <TextField
          label="At what time today"
          placeholder="14:05"
          value={person.when}
          error={wrong.when}
          autoComplete="off"
          onChange={(event) => onChange({ when: event.target.value })}
        />
        <TextField
          label="E-mail, for the notice in writing"
          type="email"
          value={person.email}
          autoComplete="off"
          help={person.role === 'client' ? 'Left empty, it goes to the address that is known.' : undefined}
          onChange={(event) => onChange({ email: event.target.value })}
        />
      </div>
      {onTakeOff && (
        <div>
          <button type="button" className="quiet" onClick={onTakeOff}>
            Take off<span className="sr"> {person.name || person.role}</span>
          </button>
        </div>
      )}
    </fieldset>
  )
}
