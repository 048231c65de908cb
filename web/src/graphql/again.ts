import { type Exchange, mapExchange, type Operation } from 'urql'
import { isOfHere } from '../model/id'

/** So long after an answer was lost, the same words are another change. */
const patience = 15 * 60_000

/**
 * A change whose answer was lost may have been made. Sent again with the same words, it goes with the ids it had, so
 * that the service knows it again and makes it once, however often the button was pressed.
 */
export function sendAgain(now: () => number = Date.now): Exchange {
  const unanswered = new Map<string, { variables: Operation['variables']; at: number }>()
  return mapExchange({
    onOperation(operation) {
      if (operation.kind !== 'mutation') return operation
      const before = unanswered.get(words(operation))
      if (!before || now() - before.at > patience) return operation
      return { ...operation, variables: before.variables }
    },
    onResult({ operation, error }) {
      if (operation.kind !== 'mutation') return
      if (error?.networkError) unanswered.set(words(operation), { variables: operation.variables, at: now() })
      else unanswered.delete(words(operation))
    },
  })
}

/** What a change says, without the ids that were made for it on this page. */
function words({ query, variables }: Operation): string {
  const { __meta__: meta } = query as { __meta__?: { hash?: string } }
  const said = JSON.stringify(variables, (_, value) => (typeof value === 'string' && isOfHere(value) ? '' : value))
  return `${meta?.hash ?? JSON.stringify(query)} ${said}`
}
