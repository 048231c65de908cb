import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { InviteToVisitDocument, type VisitPageQuery } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './visit.module.css'

type Visit = NonNullable<VisitPageQuery['visit']>

/** Who was asked to the visit by mail; a move or its end is told to them by itself. */
export function InviteByMail({ visit, again }: { visit: Visit; again: () => void }) {
  const [open, setOpen] = useState(false)
  return (
    <section>
      <h2>Asked by mail</h2>
      {visit.invited.length === 0 ? (
        <p className="small note ruled">
          Nobody. Whoever is asked gets the visit into the calendar, and hears by itself when it moves or is called off.
        </p>
      ) : (
        <ul className={`plain-list ${s.invited}`}>
          {visit.invited.map((i) => (
            <li key={i.email}>
              <b>{i.name}</b> <span className="small note">{i.email}</span>
              <span className="small">
                {i.calledOff ? 'told that it is called off' : 'asked'} {shortDay(i.sentAt)}
              </span>
            </li>
          ))}
        </ul>
      )}
      {visit.state === 'planned' && (
        <div style={{ marginTop: 12 }}>
          <button type="button" className="plain" onClick={() => setOpen(true)}>
            Ask somebody to it
          </button>
        </div>
      )}
      <Sheet title="Ask to the visit" open={open} onClose={() => setOpen(false)}>
        {open && (
          <Form
            visit={visit.id}
            onDone={() => {
              setOpen(false)
              again()
            }}
          />
        )}
      </Sheet>
    </section>
  )
}

function Form({ visit, onDone }: { visit: string; onDone: () => void }) {
  const [name, setName] = useState('')
  const [email, setEmail] = useState('')
  const [{ fetching, error }, invite] = useMutation(InviteToVisitDocument)
  const fault = error?.graphQLErrors[0]
  const at = (field: string) => (fault?.extensions?.field === field ? fault.message : undefined)
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await invite({
      input: { mutation: newId('mut'), id: newId('viv'), visit, name: name.trim(), email: email.trim() },
    })
    if (data) onDone()
  }
  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && !at('name') && !at('email') && <Failed error={error} />}
      <TextField label="Name" value={name} error={at('name')} onChange={(event) => setName(event.target.value)} />
      <TextField
        label="E-mail"
        type="email"
        value={email}
        error={at('email')}
        onChange={(event) => setEmail(event.target.value)}
        help="The letter names the boat, the yard and the time, and nothing of what was found."
      />
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Send the invitation
        </button>
      </div>
    </form>
  )
}
