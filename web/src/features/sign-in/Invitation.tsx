import { type FormEvent, useEffect, useState } from 'react'
import { Link, useNavigate, useParams } from 'react-router'
import { auth, type Invited, type Refused, refused } from '../../app/auth'
import { useSession } from '../../app/Session'
import { TextField } from '../../ui/Field'
import { Notice, Waiting } from '../../ui/Notice'
import { Cover } from './Cover'
import s from './cover.module.css'

/** From a principal's letter: whose invitation it is, then a name, a password, and in. */
export default function Invitation() {
  const { token = '' } = useParams()
  const [invited, setInvited] = useState<Invited | null>(null)
  const [fault, setFault] = useState<Refused | null>(null)
  useEffect(() => {
    auth.lookAtInvitation(token).then(setInvited, (error) => setFault(refused(error)))
  }, [token])
  return (
    <Cover title="You are invited">
      {fault ? (
        <Notice
          bad
          ways={
            <Link className="plain" to="/sign-in">
              To the sign-in
            </Link>
          }
        >
          {fault.message}
        </Notice>
      ) : invited ? (
        <Join token={token} invited={invited} />
      ) : (
        <Waiting lines={3} />
      )}
    </Cover>
  )
}

function Join({ token, invited }: { token: string; invited: Invited }) {
  const navigate = useNavigate()
  const session = useSession()
  const [name, setName] = useState(invited.name)
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
      setFault(refused(error))
    } finally {
      setBusy(false)
    }
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      <p>
        <b>{invited.practice}</b> asks you to join as {invited.roles.join(', ').toLowerCase()}. You will sign in with{' '}
        {invited.email}.
      </p>
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
        autoComplete={invited.account ? 'current-password' : 'new-password'}
        value={password}
        onChange={(event) => setPassword(event.target.value)}
        error={fault?.field === 'password' ? fault.message : undefined}
        help={invited.account ? 'That of your account here.' : 'Twelve characters or more.'}
      />
      <button type="submit" className="act" disabled={busy}>
        Join the practice
      </button>
    </form>
  )
}
