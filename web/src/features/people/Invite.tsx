import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { InviteMemberDocument, type Role } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import s from './people.module.css'

const roles: [Role, string][] = [
  ['principal', 'signs, invites, sets the practice’s rules'],
  ['surveyor', 'reads hulls, writes and signs reports'],
  ['trainee', 'reads and writes, does not sign'],
  ['office', 'books, people, money; no readings'],
  ['guest', 'sees the one job he or she is let into'],
]

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
        <fieldset className={s.roles} style={{ border: 0, padding: 0 }}>
          <legend className="small note">Roles</legend>
          {roles.map(([role, words]) => (
            <Tick
              key={role}
              checked={chosen.includes(role)}
              onChange={(on) => setChosen((now) => (on ? [...now, role] : now.filter((r) => r !== role)))}
            >
              <b>{role}</b> <span className="note">{words}</span>
            </Tick>
          ))}
        </fieldset>
        <div>
          <button type="submit" className="act" disabled={fetching || chosen.length === 0}>
            Send the letter
          </button>
        </div>
      </form>
    </Sheet>
  )
}
