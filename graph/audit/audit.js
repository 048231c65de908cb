// Runs graphql-http's audits of GraphQL over HTTP against a running service:
//
//   BOOTTOP_URL=http://127.0.0.1:8080 BOOTTOP_API_KEY=btk_… node audit.js
//
// It ends with 0 where no audit is an error and the warnings and notices are those of
// `known`, each of which says why we answer otherwise; one that has gone is told too, so
// that the list stays true.
import { auditServer } from 'graphql-http'

/** Audits that we answer otherwise on purpose, by id. */
const known = {
  '47DE': '*/* gets application/graphql-response+json, the default since 1 January 2025 (the legacy watershed)',
  '80D8': 'so does a request without Accept',
  '5A70': 'GET is not supported: operations are sent by POST',
  D6D5: 'GET is not supported',
  '6A70': 'GET is not supported',
  '86EE': 'a variable that does not fit gets 422, not 400',
}

const url = new URL('/graphql', process.env.BOOTTOP_URL ?? 'http://127.0.0.1:8080').toString()
const key = process.env.BOOTTOP_API_KEY
if (!key) {
  console.error('BOOTTOP_API_KEY is needed: free documents and introspection are for API keys.')
  process.exit(2)
}

const withKey = (input, init = {}) => fetch(input, { ...init, headers: { ...init.headers, authorization: `Bearer ${key}` } })

const results = await auditServer({ url, fetchFn: withKey })
let wrong = 0
const tell = (result, words) => {
  wrong++
  console.log(`${result.id} ${result.name}\n     ${words}`)
}
for (const result of results) {
  if (result.status === 'error') tell(result, `error: ${result.reason}`)
  if (['warn', 'notice'].includes(result.status) && !known[result.id]) tell(result, `a ${result.status} that is not listed: ${result.reason}`)
  if (result.status === 'ok' && known[result.id]) tell(result, 'is listed and passes: take it off the list')
}
const count = (status) => results.filter((result) => result.status === status).length
console.log(`${results.length} audits: ${count('ok')} passed, ${count('warn')} known warnings, ${count('notice')} known notices, ${count('error')} errors`)
process.exit(wrong > 0 ? 1 : 0)
