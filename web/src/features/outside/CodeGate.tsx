import { type FormEvent, useState } from 'react'
import { auth, type Refused, refused } from '../../app/auth'
import { Notice } from '../../ui/Notice'
import { AskCode, ProofProvider, useProof } from './proof'
import s from './shared.module.css'

/** Before a report opens that asks for it: a code from a letter to the address of the link. */
export function CodeGate({ token, opened }: { token: string; opened: (code: string) => void }) {
  return (
    <ProofProvider byLink>
      <main className={s.page}>
        <header className={s.cover}>
          <p className={s.kind}>A report by link</p>
          <h1>For its reader</h1>
        </header>
        <Gate token={token} opened={opened} />
      </main>
    </ProofProvider>
  )
}

function Gate({ token, opened }: { token: string; opened: (code: string) => void }) {
  const { code } = useProof()
  const [asking, setAsking] = useState(false)
  const [fault, setFault] = useState<Refused | null>(null)

  async function submit(event: FormEvent) {
    event.preventDefault()
    setAsking(true)
    setFault(null)
    try {
      await auth.proveLink(token, code)
      opened(code)
    } catch (error) {
      setFault(refused(error))
    } finally {
      setAsking(false)
    }
  }

  return (
    <form className={s.gate} noValidate onSubmit={submit}>
      {fault && fault.field !== 'code' && <Notice bad>{fault.message}</Notice>}
      <AskCode
        why="Whoever holds the letter with the link need not be the person it was meant for: a code is sent to the address it was shared with."
        error={fault?.field === 'code' ? fault.message : undefined}
      />
      <div>
        <button type="submit" className="act" disabled={asking}>
          Open the report
        </button>
      </div>
    </form>
  )
}
