import { Client, fetchExchange } from 'urql'
import { afterEach, expect, it, vi } from 'vitest'
import { newId } from '../model/id'
import { sendAgain } from './again'
import { codeOf, makeOutsideClient } from './client'
import { AddPartyDocument, ViewerDocument } from './gen/graphql'

afterEach(() => vi.unstubAllGlobals())

const answering = (body: object) =>
  vi.stubGlobal('fetch', () =>
    Promise.resolve(Response.json(body, { headers: { 'Content-Type': 'application/json' } })),
  )

it('what failed in the service is no answer, whatever came of the rest', async () => {
  answering({
    data: { viewer: null },
    errors: [{ message: 'Something failed here.', extensions: { code: 'INTERNAL' } }],
  })
  const { data, error } = await makeOutsideClient('x').query(ViewerDocument, {}).toPromise()
  expect(data).toBeUndefined()
  expect(error?.message).toContain('Something failed here.')
})

it('what may not be seen leaves the rest as it is', async () => {
  answering({ data: { viewer: null }, errors: [{ message: 'Not yours.', extensions: { code: 'FORBIDDEN' } }] })
  const { data, error } = await makeOutsideClient('x').query(ViewerDocument, {}).toPromise()
  expect([data, error?.graphQLErrors.length]).toEqual([{ viewer: null }, 1])
})

/** What the service was sent, one after the other; the first answers are lost. */
function losing(lost: number) {
  const sent: { mutation: string; id: string; name: string }[] = []
  vi.stubGlobal('fetch', (_: unknown, init: RequestInit) => {
    sent.push(JSON.parse(String(init.body)).variables.input)
    if (sent.length <= lost) return Promise.reject(new TypeError('the line is gone'))
    return Promise.resolve(
      Response.json({ data: { addParty: null } }, { headers: { 'Content-Type': 'application/json' } }),
    )
  })
  return sent
}
const press = (client: Client, name: string) =>
  client
    .mutation(AddPartyDocument, {
      input: { mutation: newId('mut'), id: newId('pty'), kind: 'person', name },
    })
    .toPromise()

it('pressed again after a lost answer, a change goes with the ids it had', async () => {
  const sent = losing(2)
  const client = makeOutsideClient('x')
  expect(codeOf((await press(client, 'A. Ferrant')).error)).toBe('Offline')
  await press(client, 'B. Oake')
  await press(client, 'A. Ferrant')
  await press(client, 'A. Ferrant')
  const [first, other, again, next] = sent
  expect(again).toEqual(first)
  expect(other?.id).not.toBe(first?.id)
  expect(next?.id).not.toBe(first?.id) // it was answered: the same words are another change
  expect(next?.mutation).not.toBe(first?.mutation)
})

it('long after a lost answer the same words are another change', async () => {
  const sent = losing(1)
  let now = 0
  const client = new Client({
    url: '/graphql',
    preferGetMethod: false,
    exchanges: [sendAgain(() => now), fetchExchange],
  })
  await press(client, 'A. Ferrant')
  now = 15 * 60_000 + 1
  await press(client, 'A. Ferrant')
  expect(sent[1]?.mutation).not.toBe(sent[0]?.mutation)
})
