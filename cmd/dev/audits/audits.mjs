// Runs the reference audits of GraphQL over HTTP (npm graphql-http, auditServer) against
// a running service and prints what each found, as JSON:
//   node audits.mjs URL API_KEY
import { auditServer } from 'graphql-http'

const [url, key] = process.argv.slice(2)

/** The audits speak as a program with a key. */
const asProgram = (input, init) => {
  const headers = new Headers(init?.headers)
  headers.set('authorization', `Bearer ${key}`)
  return fetch(input, { ...init, headers })
}

const found = await auditServer({ url, fetchFn: asProgram })
const lines = found.map(({ id, name, status, reason }) => ({ id, name, status, reason }))
process.stdout.write(JSON.stringify(lines))
