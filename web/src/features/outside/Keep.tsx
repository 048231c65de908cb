import { type FormEvent, useState } from 'react'
import { Link, useNavigate } from 'react-router'
import { keptReports, type Refused, refused } from '../../app/auth'
import { TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import { AskCode, useProof } from './proof'
import s from './shared.module.css'

/** Keeps this report, and all that are shared with the same address, in an account with a password. */
export function Keep({ token }: { token: string }) {
  const [open, setOpen] = useState(false)
  const [password, setPassword] = useState('')
  const [fault, setFault] = useState<Refused | null>(null)
  const [busy, setBusy] = useState(false)
  const proof = useProof()
  const navigate = useNavigate()

  async function submit(event: FormEvent) {
    event.preventDefault()
    setBusy(true)
    setFault(null)
    try {
      await keptReports.keep(token, proof.code.trim(), password)
      navigate('/my')
    } catch (error) {
      setFault(refused(error))
    } finally {
      setBusy(false)
    }
  }

  return (
    <>
      <h2>Your boats in one place</h2>
      <p>
        Keep every report that is shared with your address behind a password of your own.{' '}
        <Link to="/my">I have done so already</Link>
      </p>
      <p style={{ marginTop: 8 }}>
        <button type="button" className="plain" onClick={() => setOpen(true)}>
          Keep these reports in one place
        </button>
      </p>
      <Sheet title="Keep these reports in one place" open={open} onClose={() => setOpen(false)}>
        <form className={s.form} noValidate onSubmit={submit}>
          {fault && !fault.field && <Notice bad>{fault.message}</Notice>}
          <AskCode error={fault?.field === 'code' ? fault.message : undefined} />
          <TextField
            label="A password"
            type="password"
            autoComplete="new-password"
            value={password}
            error={fault?.field === 'password' ? fault.message : undefined}
            help="12 letters or more. Where your address has a password here already, that one."
            onChange={(event) => setPassword(event.target.value)}
          />
          <div>
            <button type="submit" className="act" disabled={busy}>
              {busy ? 'Opening' : 'Keep them'}
            </button>
          </div>
        </form>
      </Sheet>
    </>
  )
}
