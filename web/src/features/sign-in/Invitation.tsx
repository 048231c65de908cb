import { type FormEvent, useState } from 'react'
import { useNavigate, useParams } from 'react-router'
import { auth, Refused } from '../../app/auth'
import { useSession } from '../../app/Session'
import { TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Cover } from './Cover'
import s from './cover.module.css'

/** From the letter of a principal: a name, a password, and in. */
export default function Invitation() {
  const { token = '' } = useParams()
  const navigate = useNavigate()
  const session = useSession()
  const [name, setName] = useState('')
  const [password, setPassword] = useState('')
  const [fault, setFault] = useState<Refused | null>(null)
  const [busy, setBusy] = useState(false)

  async function send(event: FormEvent) {
    event.preventDefault()
    setBusy(true)
    setFault(null)
    try {
      session.signedIn(await auth.acceptInvitation(token, name, password))
      navigate('/today', { replace: true })
    } catch (error) {
      setFault(error instanceof Refused ? error : new Refused({ code: 'Internal', message: String(error) }))
    } finally {
      setBusy(false)
    }
  }

  return (
    <Cover title="You are invited">
      <form className={s.form} noValidate onSubmit={send}>
        {fault && !fault.field && <Notice bad>{fault.message}</Notice>}
        <TextField
          label="Your name"
          autoComplete="name"
          value={name}
          onChange={(event) => setName(event.target.value)}
          error={fault?.field === 'name' ? fault.message : undefined}
          help="As it should stand under a report: I. Varrow."
        />
        <TextField
          label="Password"
          type="password"
          autoComplete="new-password"
          value={password}
          onChange={(event) => setPassword(event.target.value)}
          error={fault?.field === 'password' ? fault.message : undefined}
          help="Twelve characters or more. If you already have an account, use its password."
        />
        <button type="submit" className="act" disabled={busy}>
          Join the practice
        </button>
      </form>
    </Cover>
  )
}
