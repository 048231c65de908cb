import { useEffect, useState } from 'react'
import { useParams } from 'react-router'
import { Notice, Waiting } from '../../ui/Notice'
import { CodeGate } from './CodeGate'
import { Invoices } from './Invoices'
import { Keep } from './Keep'
import { OpenReport, type SharedReport } from './OpenReport'
import { Outside } from './Outside'
import s from './shared.module.css'

type State =
  | { kind: 'waiting' }
  | { kind: 'there'; report: SharedReport }
  | { kind: 'code' }
  | { kind: 'shut'; text: string; again: boolean }

/** What a client sees: what, where, how sure, how urgent, by when; the whole report and its PDF one step away. */
export default function SharedPage() {
  const { token = '' } = useParams()
  const [state, setState] = useState<State>({ kind: 'waiting' })
  const [turn, setTurn] = useState(0)
  const [proved, setProved] = useState('')
  // biome-ignore lint/correctness/useExhaustiveDependencies: `turn` asks again
  useEffect(() => {
    const stop = new AbortController()
    fetch(`/share/${encodeURIComponent(token)}`, { signal: stop.signal, headers: { Accept: 'application/json' } })
      .then(async (answer) => {
        const said = await answer.json().catch(() => null)
        if (answer.ok && said?.data?.report) setState({ kind: 'there', report: said.data.report as SharedReport })
        else if (said?.error?.field === 'code') setState({ kind: 'code' })
        else
          setState({
            kind: 'shut',
            text: answer.status === 404 && !erased(said) ? shut : (said?.error?.message ?? shut),
            again: answer.status >= 500,
          })
      })
      .catch(() => {
        if (!stop.signal.aborted)
          setState({
            kind: 'shut',
            text: 'The page cannot be reached. Check the connection and try again.',
            again: true,
          })
      })
    return () => stop.abort()
  }, [token, turn])
  if (state.kind === 'waiting')
    return (
      <main className={s.page}>
        <Waiting lines={8} label="Opening the report" />
      </main>
    )
  if (state.kind === 'shut')
    return (
      <main className={s.page}>
        <header className={s.cover}>
          <p className={s.kind}>A report by link</p>
          <h1>Not open</h1>
        </header>
        <Notice
          bad
          ways={
            state.again && (
              <button type="button" className="plain" onClick={() => setTurn((n) => n + 1)}>
                Try again
              </button>
            )
          }
        >
          {state.text}
        </Notice>
        <Invoices files={`/share/${encodeURIComponent(token)}`} />
      </main>
    )
  if (state.kind === 'code')
    return (
      <Outside>
        <CodeGate
          token={token}
          opened={(code) => {
            setProved(code)
            setTurn((n) => n + 1)
          }}
        />
      </Outside>
    )
  return (
    <Outside>
      <OpenReport
        shared={state.report}
        proved={proved}
        files={`/share/${encodeURIComponent(token)}`}
        foot={<Keep token={token} />}
        byLink
      />
    </Outside>
  )
}

/** The service says that the person was erased whom a link was for; of any other link it says nothing. */
const erased = (said: { error?: { field?: string } } | null) => said?.error?.field === 'erased'

const shut = 'This link opens nothing any more: it has run out, or was taken back. Ask whoever sent it for another.'
