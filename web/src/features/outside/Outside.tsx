import { type ReactNode, useMemo } from 'react'
import { useParams } from 'react-router'
import { type CombinedError, Provider } from 'urql'
import { codeOf, makeOutsideClient } from '../../graphql/client'
import { Notice, Waiting } from '../../ui/Notice'
import s from './shared.module.css'

/** A page for whoever holds a link: its secret goes with each question and nowhere else. */
export function Outside({ children }: { children: ReactNode }) {
  const { token = '' } = useParams()
  const client = useMemo(() => makeOutsideClient(token), [token])
  return <Provider value={client}>{children}</Provider>
}

/** What a link opens; until it has come, or where it opens nothing, what there is to say. */
export function Opened<T>({
  data,
  error,
  again,
  kind,
  children,
}: {
  data: T | null | undefined
  error: CombinedError | undefined
  again: () => void
  kind: string
  children: (data: T) => ReactNode
}) {
  if (data) return <main className={s.page}>{children(data)}</main>
  const lost = codeOf(error) === 'Offline'
  if (!error && data === undefined)
    return (
      <main className={s.page}>
        <Waiting lines={8} label="Opening the link" />
      </main>
    )
  return (
    <main className={s.page}>
      <header className={s.cover}>
        <p className={s.kind}>{kind}</p>
        <h1>Not open</h1>
      </header>
      <Notice
        bad
        ways={
          lost && (
            <button type="button" className="plain" onClick={again}>
              Try again
            </button>
          )
        }
      >
        {lost
          ? 'The page cannot be reached. Check the connection and try again.'
          : 'This link opens nothing any more: it has run out, or was taken back. Ask whoever sent it for another.'}
      </Notice>
    </main>
  )
}
