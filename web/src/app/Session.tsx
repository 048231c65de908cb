import { createContext, type ReactNode, useCallback, useContext, useMemo, useState } from 'react'
import { type Client, Provider } from 'urql'
import { makeClient } from '../graphql/client'
import { typedBy } from '../ui/useTyped'
import { auth, type Refused, type SignedIn } from './auth'

export type Role = 'principal' | 'surveyor' | 'trainee' | 'office' | 'guest'

interface Session {
  /** True once the service has said that nobody is signed in, or the session could not be renewed. */
  out: boolean
  /** Why the last session ended, where there is more to say than that it did. */
  why: string
  signedIn(said: SignedIn): void
  signOut(): Promise<void>
}

const Context = createContext<Session | null>(null)

/** Who is signed in is the service's to say: the page only remembers that the last answer was "nobody". */
export function SessionProvider({ children }: { children: ReactNode }) {
  const [out, setOut] = useState(false)
  const [turn, setTurn] = useState(0)
  const [why, setWhy] = useState('')
  const signedOut = useCallback((refused: Refused) => {
    setWhy(refused.field === 'session' ? refused.message : '')
    setOut(true)
  }, [])
  // A new client for each session, so that nothing cached outlives the person it was shown to.
  // biome-ignore lint/correctness/useExhaustiveDependencies: `turn` is what makes it new
  const client: Client = useMemo(() => makeClient(signedOut), [signedOut, turn])
  const session = useMemo<Session>(
    () => ({
      out,
      why,
      signedIn() {
        setWhy('')
        setTurn((n) => n + 1)
        setOut(false)
      },
      async signOut() {
        await auth.signOut().catch(() => undefined)
        typedBy('')
        setTurn((n) => n + 1)
        setOut(true)
      },
    }),
    [out, why],
  )
  return (
    <Context value={session}>
      <Provider value={client}>{children}</Provider>
    </Context>
  )
}

export function useSession(): Session {
  const session = useContext(Context)
  if (!session) throw new Error('useSession outside SessionProvider')
  return session
}
