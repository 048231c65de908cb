import { type FormEvent, useState } from 'react'
import { ownHeader } from '../../app/auth'
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
  const [fault, setFault] = useState<{ field?: string; message: string } | null>(null)

  async function submit(event: FormEvent) {
    event.preventDefault()
    setAsking(true)
    const fault = await prove(token, code)
    setAsking(false)
    setFault(fault)
    if (!fault) opened(code)
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

/** Tells why a code was refused; null where it was taken. */
async function prove(token: string, code: string): Promise<{ field?: string; message: string } | null> {
  let answer: Response
  try {
    answer = await fetch(`/share/${encodeURIComponent(token)}/code`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json', ...ownHeader },
      body: JSON.stringify({ code }),
    })
  } catch {
    return { message: 'The page cannot be reached. Check the connection and try again.' }
  }
  if (answer.ok) return null
  const said = await answer.json().catch(() => null)
  return said?.error ?? { message: 'The service gave no answer. Try again in a minute.' }
}
