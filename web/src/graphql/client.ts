import { type Exchange, mapExchange, type Operation } from '@urql/core'
import { authExchange } from '@urql/exchange-auth'
import { cacheExchange } from '@urql/exchange-graphcache'
import { Client, type CombinedError, fetchExchange } from 'urql'
import { ownHeader, type Refused, refresh } from '../app/auth'
import { sendAgain } from './again'
import { cacheRules } from './cache'
import { keepLast } from './keepLast'
import { readOnceMore } from './readOnceMore'

/** The service decides by code, house style "Errors". */
export function codeOf(error: CombinedError | undefined): string | undefined {
  if (!error) return undefined
  if (error.networkError) return 'Offline'
  const code = error.graphQLErrors[0]?.extensions?.code
  return typeof code === 'string' ? code : 'Internal'
}
const unauthenticated = (error: CombinedError) =>
  error.response?.status === 401 ||
  error.graphQLErrors.some((fault) => String(fault.extensions?.code).toLowerCase() === 'unauthenticated')

/** Operations travel as the hash of their stored text; a development server also gets the text. */
const stored: Exchange = mapExchange({
  onOperation(operation: Operation): Operation {
    const hash = (operation.query as { __meta__?: { hash?: string } }).__meta__?.hash
    if (!hash || operation.kind === 'teardown') return operation
    return { ...operation, extensions: { ...operation.extensions, persistedQuery: { version: 1, sha256Hash: hash } } }
  },
})

/** What failed in the service is no answer: half of one would read as if the rest were not there. */
const whole: Exchange = mapExchange({
  onResult(result) {
    const failed = result.error?.graphQLErrors.some(({ extensions }) => extensions?.code === 'INTERNAL')
    return failed ? { ...result, data: undefined } : result
  },
})

async function storedFetch(input: RequestInfo | URL, init?: RequestInit): Promise<Response> {
  if (!import.meta.env.DEV || typeof init?.body !== 'string') return fetch(input, init)
  const { default: texts } = (await import('./gen/persisted-documents.json')) as { default: Record<string, string> }
  const body = JSON.parse(init.body)
  const hash = body.extensions?.persistedQuery?.sha256Hash
  return fetch(input, { ...init, body: JSON.stringify({ ...body, query: body.query ?? texts[hash] }) })
}

/** `signedOut` is told when a session has ended and could not be renewed, and why. */
export function makeClient(signedOut: (why: Refused) => void): Client {
  return new Client({
    url: '/graphql',
    preferGetMethod: false,
    fetch: storedFetch,
    fetchOptions: { credentials: 'same-origin', headers: ownHeader },
    exchanges: [
      keepLast,
      cacheExchange(cacheRules),
      readOnceMore,
      whole,
      sendAgain(),
      stored,
      authExchange(async () => ({
        addAuthToOperation: (operation) => operation,
        didAuthError: unauthenticated,
        refreshAuth: async () => {
          const refused = await refresh()
          if (refused) signedOut(refused)
        },
      })),
      fetchExchange,
    ],
  })
}

/** For whoever holds a link: no session, no cache, and nothing but what the link opens. */
export function makeOutsideClient(token: string): Client {
  return new Client({
    url: '/graphql',
    preferGetMethod: false,
    fetch: storedFetch,
    fetchOptions: { credentials: 'omit', headers: { ...ownHeader, 'X-Boottop-Share': token } },
    exchanges: [whole, sendAgain(), stored, fetchExchange],
  })
}

/** For a client signed in to an account of reports: that session and no member’s, no cache. */
export function makeKeptClient(): Client {
  return new Client({
    url: '/graphql',
    preferGetMethod: false,
    fetch: storedFetch,
    fetchOptions: { credentials: 'same-origin', headers: { ...ownHeader, 'X-Boottop-Client': '1' } },
    exchanges: [whole, sendAgain(), stored, fetchExchange],
  })
}
