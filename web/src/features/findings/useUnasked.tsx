import { useState } from 'react'
import type { CombinedError } from 'urql'
import { TextField } from '../../ui/Field'

/**
 * Where no leave covers what was done: leave is written down in the job first, or it was done already and is kept
 * with a mark and the reason. The field comes once the service has refused, and stays until it is kept.
 */
export function useUnasked(error: CombinedError | undefined) {
  const [reason, setReason] = useState('')
  const stopped = error?.graphQLErrors.some(({ extensions }) => extensions?.field === 'withoutLeave')
  return {
    unasked: reason.trim() ? { reason: reason.trim() } : null,
    clear: () => setReason(''),
    field: (stopped || reason !== '') && (
      <TextField
        label="Done already: why without leave"
        value={reason}
        onChange={(event) => setReason(event.target.value)}
        help="It is kept with a mark, this reason and your name. What is still to be done waits for the leave."
        autoComplete="off"
      />
    ),
  }
}
