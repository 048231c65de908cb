import { createContext, type ReactNode, useContext, useMemo, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { SendShareCodeDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'

/**
 * What shows that an act is the client’s own: by a link the code of a letter, kept for as long as the page is
 * open; in an account the session, and nothing need be typed.
 */
interface Proof {
  byLink: boolean
  code: string
  setCode: (code: string) => void
  /** The service took the code: it is not asked for again on this page. */
  taken: boolean
  setTaken: (taken: boolean) => void
}

const Context = createContext<Proof | null>(null)

export function ProofProvider({
  byLink,
  proved = '',
  children,
}: {
  byLink: boolean
  /** A code that the service took before the page opened. */
  proved?: string
  children: ReactNode
}) {
  const [code, setCode] = useState(proved)
  const [taken, setTaken] = useState(proved !== '')
  const proof = useMemo(() => ({ byLink, code, setCode, taken, setTaken }), [byLink, code, taken])
  return <Context.Provider value={proof}>{children}</Context.Provider>
}

export function useProof(): Proof {
  const proof = useContext(Context)
  if (!proof) throw new Error('there is no proof around this')
  return proof
}

/** Has a code sent and takes it, where one is needed. */
export function AskCode({
  error,
  why = 'So that nobody answers in your name, a code is sent to the address of your link.',
}: {
  error?: string | undefined
  why?: string
}) {
  const { byLink, code, setCode, taken } = useProof()
  const [{ data, fetching, error: fault }, send] = useMutation(SendShareCodeDocument)
  if (!byLink || taken) return null
  return (
    <>
      {fault && <Failed error={fault} />}
      {data ? (
        <Notice>A letter with a code is on its way to {data.sendShareCode.sentTo}. It holds for a day.</Notice>
      ) : (
        <p className="small note">{why}</p>
      )}
      <div>
        <button
          type="button"
          className="plain"
          disabled={fetching}
          onClick={() => send({ input: { mutation: newId('mut') } })}
        >
          {data ? 'Send another code' : 'Send me the code'}
        </button>
      </div>
      <TextField
        label="The code from the letter"
        autoComplete="one-time-code"
        autoCapitalize="characters"
        spellCheck={false}
        value={code}
        error={error}
        onChange={(event) => setCode(event.target.value)}
      />
    </>
  )
}
