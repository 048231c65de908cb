import type { ReactNode } from 'react'
import type { CombinedError } from 'urql'
import { Waiting } from '../ui/Notice'
import { Failed } from './Fault'

/** The body of a page while its answer is on the way, when it failed, and when it is there. */
export function Answer<Data>({
  data,
  error,
  again,
  lines,
  children,
}: {
  data: Data | null | undefined
  error: CombinedError | undefined
  again?: () => void
  lines?: number
  children: (data: Data) => ReactNode
}) {
  if (data !== null && data !== undefined)
    return (
      <>
        {error && <Failed error={error} {...(again ? { again } : {})} />}
        {children(data)}
      </>
    )
  if (error) return <Failed error={error} {...(again ? { again } : {})} />
  return <Waiting lines={lines ?? 6} />
}
