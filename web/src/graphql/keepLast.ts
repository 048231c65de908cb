import type { CombinedError, Exchange } from 'urql'
import { map, pipe } from 'wonka'

/** So many answers are kept at most: more than a page asks for. */
const most = 60

/** Nobody answered, or something failed in the service: it says nothing of what was asked. */
const unanswered = ({ networkError, graphQLErrors }: CombinedError) =>
  Boolean(networkError) || graphQLErrors.some(({ extensions }) => extensions?.code === 'INTERNAL')

/**
 * A question that fails takes nothing off the page that was there: its last answer stays, beside what went wrong, and
 * with it whatever is being typed into it.
 */
export const keepLast: Exchange =
  ({ forward }) =>
  (operations) => {
    const last = new Map<number, unknown>()
    return pipe(
      forward(operations),
      map((result) => {
        const { operation, data, error } = result
        if (operation.kind !== 'query') return result
        if (data) {
          last.delete(operation.key)
          last.set(operation.key, data)
          const [oldest] = last.keys()
          if (last.size > most && oldest !== undefined) last.delete(oldest)
          return result
        }
        return error && unanswered(error) ? { ...result, data: last.get(operation.key) } : result
      }),
    )
  }
