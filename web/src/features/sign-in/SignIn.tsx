import { type FormEvent, useEffect, useState } from 'react'
import { Link, useNavigate, useSearchParams } from 'react-router'
import { auth, type PracticeChoice, type Refused, refresh, refused } from '../../app/auth'
import { useSession } from '../../app/Session'
import { inside } from '../../model/inside'
import { TextField } from '../../ui/Field'
import { Notice, Waiting } from '../../ui/Notice'
import { typedBy } from '../../ui/useTyped'
import { Cover } from './Cover'
import s from './cover.module.css'

/** A file that was opened without a session comes before the sign-in itself: the session may only want renewing. */
export default function SignIn() {
  const [search] = useSearchParams()
  const file = inside(search.get('file'), location.origin)
  const [state, setState] = useState<'asking' | 'in' | 'out'>(file ? 'asking' : 'out')
  useEffect(() => {
    if (file) void refresh().then((refused) => setState(refused ? 'out' : 'in'))
  }, [file])
  if (state === 'out') return <Credentials file={file} onFile={() => setState('in')} />
  return <OpenFile file={state === 'in' ? file : null} />
}

/** A file is not a page of this program: the browser fetches it, and where it is saved this page stays. */
function OpenFile({ file }: { file: string | null }) {
  useEffect(() => {
    if (file) location.replace(file)
  }, [file])
  return (
    <Cover title="Your file">
      {file ? (
        <Notice
          ways={
            <>
              <a className="plain" href={file}>
                Open it again
              </a>
              <Link className="plain" to="/today">
                To today
              </Link>
            </>
          }
        >
          You are signed in, and the file is on its way.
        </Notice>
      ) : (
        <Waiting lines={2} />
      )}
    </Cover>
  )
}

function Credentials({ file, onFile }: { file: string | null; onFile: () => void }) {
  const [search] = useSearchParams()
  const navigate = useNavigate()
  const session = useSession()
  const [email, setEmail] = useState('')
  const [password, setPassword] = useState('')
  const [practices, setPractices] = useState<PracticeChoice[]>([])
  const [fault, setFault] = useState<Refused | null>(null)
  const [busy, setBusy] = useState(false)

  async function send(practice?: string) {
    setBusy(true)
    setFault(null)
    try {
      const said = await auth.signIn(email, password, practice)
      if (!said.practice && said.practices.length > 1) {
        setPractices(said.practices)
        return
      }
      typedBy(`${email.trim().toLowerCase()} ${said.practice}`)
      session.signedIn(said)
      if (file) onFile()
      else navigate(inside(search.get('to'), location.origin) ?? '/today', { replace: true })
    } catch (error) {
      setFault(refused(error))
    } finally {
      setBusy(false)
    }
  }

  if (practices.length)
    return (
      <Cover title="Which practice?">
        <p className="note" style={{ marginBottom: 12 }}>
          Your account belongs to {practices.length}. They see nothing of each other.
        </p>
        <ul className={s.practices}>
          {practices.map((practice) => (
            <li key={practice.id}>
              <button type="button" disabled={busy} onClick={() => send(practice.id)}>
                <b>{practice.name}</b>
                <span className="small note">{practice.roles.join(', ').toLowerCase()}</span>
              </button>
            </li>
          ))}
        </ul>
      </Cover>
    )

  return (
    <Cover title="Sign in">
      <form
        className={s.form}
        noValidate
        onSubmit={(event: FormEvent) => {
          event.preventDefault()
          void send()
        }}
      >
        {session.why && !fault && <Notice bad>{session.why}</Notice>}
        {file && !session.why && !fault && <Notice>The file you asked for opens once you have signed in.</Notice>}
        {fault && !fault.field && <Notice bad>{fault.message}</Notice>}
        <TextField
          label="E-mail"
          type="email"
          name="email"
          autoComplete="username"
          autoCapitalize="none"
          spellCheck={false}
          value={email}
          onChange={(event) => setEmail(event.target.value)}
          error={fault?.field === 'email' ? fault.message : undefined}
        />
        <TextField
          label="Password"
          type="password"
          name="password"
          autoComplete="current-password"
          value={password}
          onChange={(event) => setPassword(event.target.value)}
          error={fault?.field === 'password' ? fault.message : undefined}
        />
        <button type="submit" className="act" disabled={busy}>
          {busy ? 'Signing in' : 'Sign in'}
        </button>
        <p className="small">
          <Link to="/reset">Forgotten the password?</Link>
        </p>
        <p className="small note">
          There is no open registration: a principal of your practice invites you by e-mail. Clients open their report
          by the link in the letter they were sent.
        </p>
      </form>
    </Cover>
  )
}
