import { type FormEvent, useState } from 'react'
import { Link, useParams } from 'react-router'
import { auth, type Refused, refused } from '../../app/auth'
import { TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Cover } from './Cover'
import s from './cover.module.css'

/** Asks for the letter; with the token from the letter, sets the new password. */
export default function Reset() {
  const { token } = useParams()
  return token ? <Finish token={token} /> : <Ask />
}

function useSend(work: () => Promise<unknown>) {
  const [state, setState] = useState<'still' | 'busy' | 'done'>('still')
  const [fault, setFault] = useState<Refused | null>(null)
  async function send(event: FormEvent) {
    event.preventDefault()
    setState('busy')
    setFault(null)
    try {
      await work()
      setState('done')
    } catch (error) {
      setFault(refused(error))
      setState('still')
    }
  }
  return { state, fault, send }
}

function Ask() {
  const [email, setEmail] = useState('')
  const { state, fault, send } = useSend(() => auth.askReset(email))
  return (
    <Cover title="A new password">
      {state === 'done' ? (
        <Notice ways={<Link to="/sign-in">Back to sign in</Link>}>
          If {email} belongs to an account, a letter is on its way. The link in it works once, for an hour.
        </Notice>
      ) : (
        <form className={s.form} noValidate onSubmit={send}>
          {fault && !fault.field && <Notice bad>{fault.message}</Notice>}
          <TextField
            label="E-mail"
            type="email"
            autoComplete="username"
            value={email}
            onChange={(event) => setEmail(event.target.value)}
            error={fault?.field ? fault.message : undefined}
            help="We send a link to this address, if it belongs to an account."
          />
          <button type="submit" className="act" disabled={state === 'busy'}>
            Send the letter
          </button>
          <p className="small">
            <Link to="/sign-in">Back to sign in</Link>
          </p>
        </form>
      )}
    </Cover>
  )
}

function Finish({ token }: { token: string }) {
  const [password, setPassword] = useState('')
  const { state, fault, send } = useSend(() => auth.finishReset(token, password))
  return (
    <Cover title="A new password">
      {state === 'done' ? (
        <Notice
          ways={
            <Link className="act" to="/sign-in">
              Sign in
            </Link>
          }
        >
          The new password holds from now on. Everywhere else you were signed in, you are signed out.
        </Notice>
      ) : (
        <form className={s.form} noValidate onSubmit={send}>
          {fault && !fault.field && (
            <Notice bad ways={<Link to="/reset">Ask for another letter</Link>}>
              {fault.message}
            </Notice>
          )}
          <TextField
            label="New password"
            type="password"
            autoComplete="new-password"
            value={password}
            onChange={(event) => setPassword(event.target.value)}
            error={fault?.field ? fault.message : undefined}
            help="Twelve characters or more; a few plain words do well."
          />
          <button type="submit" className="act" disabled={state === 'busy'}>
            Set it
          </button>
        </form>
      )}
    </Cover>
  )
}
