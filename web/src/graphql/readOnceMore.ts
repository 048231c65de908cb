import type { Exchange } from 'urql'
import { pipe, tap } from 'wonka'

/**
 * What was being read while something was written may tell of before: it is read once more. The cache asks anew for
 * what a change made old, and the client drops that where the same is asked already.
 */
export const readOnceMore: Exchange =
  ({ forward, client }) =>
  (operations) => {
    const old = new Map<number, boolean>() // what is being read, and whether something was written meanwhile
    return pipe(
      operations,
      tap(({ kind, key }) => {
        if (kind === 'query') old.set(key, false)
        if (kind === 'teardown') old.delete(key)
      }),
      forward,
      tap(({ operation }) => {
        if (operation.kind === 'mutation') for (const key of old.keys()) old.set(key, true)
        if (operation.kind !== 'query') return
        const again = old.get(operation.key)
        old.delete(operation.key)
        const context = { ...operation.context, requestPolicy: 'network-only' as const }
        if (again) client.reexecuteOperation(client.createRequestOperation('query', operation, context))
      }),
    )
  }
