import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import {
  DraftDangerNoticeDocument,
  type FollowThroughBodyFragment,
  SendDangerNoticeDocument,
} from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { SelectField, TextArea, TextField } from '../../ui/Field'
import { useTyped } from '../../ui/useTyped'
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
              Draft a notice
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
        <b>Sent</b> {notice.sentAt && shortDay(notice.sentAt)} by {notice.sentBy}.
      </p>
      <p className={s.notice}>{notice.text}</p>
      <ul className="plain-list small">
        {notice.told.map((who) => (
          <li key={who.name + who.role}>
            {who.name}, {who.role}: {who.spokenAt ? `spoken to ${who.how}, ${shortDay(who.spokenAt)}` : 'in writing'}
            {who.spokenAt && who.email && ', then in writing'}
          </li>
        ))}
      </ul>
    </div>
  )
}

function Send({ notice }: { notice: Notice }) {
  const [text, setText] = useTyped(`danger/${notice.id}.${notice.version}`, notice.text)
  const [name, setName] = useState('')
  const [role, setRole] = useState<(typeof roles)[number]>('yard')
  const [how, setHow] = useState<(typeof hows)[number]>('in person')
  const [email, setEmail] = useState('')
  const [wrong, setWrong] = useState<string | undefined>()
  const [{ fetching, error }, send] = useMutation(SendDangerNoticeDocument)

  async function go(event: FormEvent) {
    event.preventDefault()
    const fault = name.trim() ? undefined : 'Say whom you spoke to.'
    setWrong(fault)
    if (fault) return
    await send({
      input: {
        mutation: newId('mut'),
        id: notice.id,
        version: notice.version,
        text: text.trim(),
        told: [{ name: name.trim(), role, how, spokenAt: new Date().toISOString(), email: email.trim() }],
      },
    })
  }

  return (
    <form className={s.form} noValidate onSubmit={go}>
      {error && <Failed error={error} />}
      <TextArea label="The notice" rows={10} value={text} onChange={(event) => setText(event.target.value)} />
      <div className={s.pair}>
        <TextField
          label="You have just spoken to"
          value={name}
          error={wrong}
          onChange={(event) => setName(event.target.value)}
        />
        <SelectField label="Who is" value={role} onChange={(event) => setRole(event.target.value as typeof role)}>
          {roles.map((each) => (
            <option key={each}>{each}</option>
          ))}
        </SelectField>
        <SelectField label="How" value={how} onChange={(event) => setHow(event.target.value as typeof how)}>
          {hows.map((each) => (
            <option key={each}>{each}</option>
          ))}
        </SelectField>
        <TextField
          label="E-mail, for the notice in writing"
          type="email"
          value={email}
          onChange={(event) => setEmail(event.target.value)}
        />
      </div>
      <p className="note">The client gets it too. Whom you spoke to, when and how stays with it.</p>
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Spoken to; send it
        </button>
      </div>
    </form>
  )
}
