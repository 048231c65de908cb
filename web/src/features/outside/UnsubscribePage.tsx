import { useEffect, useState } from 'react'
import { useParams } from 'react-router'
import { Notice } from '../../ui/Notice'
import s from './shared.module.css'

type State = 'asking' | 'sending' | 'ended' | 'unknown' | 'lost'

/** Ends the mails of notices. Opening the page ends nothing: scanners open links; a person presses. */
export default function UnsubscribePage() {
  const { token = '' } = useParams()
  const [state, setState] = useState<State>('asking')
  useEffect(() => {
    document.title = 'No more mails · Boottop'
  }, [])

  async function end() {
    setState('sending')
    try {
      const answer = await fetch(`/unsubscribe/${encodeURIComponent(token)}`, { method: 'POST', credentials: 'omit' })
      setState(answer.ok ? 'ended' : answer.status === 404 ? 'unknown' : 'lost')
    } catch {
      setState('lost')
    }
  }

  return (
    <main className={s.page} id="main">
      <header className={s.cover}>
        <p className={s.kind}>Mails of what is new</p>
        <h1>{state === 'ended' ? 'Ended' : 'No more of them?'}</h1>
      </header>
      {state === 'ended' ? (
        <Notice>You get no more of these mails. They begin again when you choose so on the page of notices.</Notice>
      ) : state === 'unknown' ? (
        <Notice bad>This address ends nothing: it is not one that came with such a mail, or was cut short.</Notice>
      ) : (
        <>
          {state === 'lost' && (
            <Notice bad>The service could not do it just now. Check the connection and press again.</Notice>
          )}
          <p>What changed for you stays on the page of notices; only the mails end.</p>
          <div style={{ marginTop: 16 }}>
            <button type="button" className="act" disabled={state === 'sending'} onClick={end}>
              End the mails
            </button>
          </div>
        </>
      )}
    </main>
  )
}
