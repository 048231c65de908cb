import { type FormEvent, type ReactNode, useState } from 'react'
import { type CombinedError, useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { AddBoatDocument, AddClientDocument, EditEngagementDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { ChoiceField } from '../../ui/Choice'
import { TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import type { Enquiry } from './EnquiryPage'
import s from './engagements.module.css'

/** Whoever asked becomes one of the practice’s people, and the client. */
export function NewClient({ e }: { e: Enquiry }) {
  const [name, setName] = useState(e.askedBy)
  const [email, setEmail] = useState(e.contact.includes('@') ? e.contact : '')
  const [phone, setPhone] = useState(e.contact.includes('@') ? '' : e.contact)
  const [kind, setKind] = useState<'person' | 'organisation'>('person')
  const [id] = useState(() => newId('pty'))
  const [added, add] = useMutation(AddClientDocument)
  const [edited, edit] = useMutation(EditEngagementDocument)
  async function send() {
    const { data } = await add({
      input: { mutation: newId('mut'), id, kind, name: name.trim(), email: email.trim(), phone: phone.trim() },
    })
    if (!data) return false
    const { data: done } = await edit({
      input: { mutation: newId('mut'), id: e.id, version: e.version, client: id },
    })
    return Boolean(done)
  }
  return (
    <New
      button="Make the caller the client"
      title="A new client"
      error={added.error ?? edited.error}
      waits={added.fetching || edited.fetching}
      send={send}
    >
      <ChoiceField
        label="Is"
        value={kind}
        onChange={setKind}
        options={[
          { value: 'person', name: 'A person' },
          { value: 'organisation', name: 'An organisation' },
        ]}
      />
      <TextField label="Name" value={name} onChange={(event) => setName(event.target.value)} />
      <TextField
        label="E-mail"
        type="email"
        value={email}
        onChange={(event) => setEmail(event.target.value)}
        help="The offer goes there."
      />
      <TextField label="Telephone" type="tel" value={phone} onChange={(event) => setPhone(event.target.value)} />
    </New>
  )
}

/** A boat new to the practice: a name is enough, the rest is read off her. */
export function NewBoat({ e }: { e: Enquiry }) {
  const [name, setName] = useState(e.boatAsWritten)
  const [kind, setKind] = useState('')
  const [id] = useState(() => newId('vsl'))
  const [added, add] = useMutation(AddBoatDocument)
  const [edited, edit] = useMutation(EditEngagementDocument)
  async function send() {
    const { data } = await add({ input: { mutation: newId('mut'), id, name: name.trim(), kind: kind.trim() } })
    if (!data) return false
    const { data: done } = await edit({
      input: { mutation: newId('mut'), id: e.id, version: e.version, vessel: id },
    })
    return Boolean(done)
  }
  return (
    <New
      button="Add her as a new boat"
      title="A boat new to the practice"
      error={added.error ?? edited.error}
      waits={added.fetching || edited.fetching}
      send={send}
    >
      <TextField
        label="Name she carries now"
        value={name}
        onChange={(event) => setName(event.target.value)}
        help="Look for her under “Change what is asked” first: a boat that was seen before keeps her history."
      />
      <TextField
        label="Kind"
        placeholder="fin-keel sloop"
        value={kind}
        onChange={(event) => setKind(event.target.value)}
      />
    </New>
  )
}

function New({
  button,
  title,
  error,
  waits,
  send,
  children,
}: {
  button: string
  title: string
  error: CombinedError | undefined
  waits: boolean
  send: () => Promise<boolean>
  children: ReactNode
}) {
  const [open, setOpen] = useState(false)
  async function go(event: FormEvent) {
    event.preventDefault()
    if (await send()) setOpen(false)
  }
  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        {button}
      </button>
      <Sheet title={title} open={open} onClose={() => setOpen(false)}>
        <form className={s.form} noValidate onSubmit={go}>
          {error && <Failed error={error} />}
          {children}
          <div>
            <button type="submit" className="act" disabled={waits}>
              Add
            </button>
          </div>
        </form>
      </Sheet>
    </>
  )
}
