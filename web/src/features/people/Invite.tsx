import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { InviteMemberDocument, type Role } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './people.module.css'
import { RoleTicks } from './RoleTicks'

export function Invite({ open, onClose }: { open: boolean; onClose: () => void }) {
  const [name, setName] = useState('')
  const [email, setEmail] = useState('')
  const [chosen, setChosen] = useState<Role[]>(['surveyor'])
  const [{ fetching, error }, invite] = useMutation(InviteMemberDocument)
  const fault = error?.graphQLErrors[0]
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await invite({
      input: { mutation: newId('mut'), id: newId('inv'), name: name.trim(), email: email.trim(), roles: chosen },
    })
    if (!data) return
    setName('')
    setEmail('')
    onClose()
  }
  return (
    <Sheet title="Invite a member" open={open} onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {error && !fault?.extensions?.field && <Failed error={error} />}
        <TextField
          label="Name"
          value={name}
          onChange={(event) => setName(event.target.value)}
          error={fault?.extensions?.field === 'name' ? fault.message : undefined}
        />
        <TextField
          label="E-mail"
          type="email"
          value={email}
          onChange={(event) => setEmail(event.target.value)}
          error={fault?.extensions?.field === 'email' ? fault.message : undefined}
          help="The letter holds a link that works for two weeks."
        />
        <RoleTicks chosen={chosen} onChange={setChosen} />
        <div>
          <button type="submit" className="act" disabled={fetching || chosen.length === 0}>
            Send the letter
          </button>
        </div>
      </form>
    </Sheet>
  )
}
