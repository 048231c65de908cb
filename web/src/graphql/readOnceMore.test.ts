import { Client, fetchExchange } from 'urql'
import { afterEach, expect, it, vi } from 'vitest'
import { newId } from '../model/id'
import { AddPartyDocument, ViewerDocument } from './gen/graphql'
import { readOnceMore } from './readOnceMore'

afterEach(() => vi.unstubAllGlobals())

it('what was being read while something was written is read once more', async () => {
  const asked: { name: string; answer: () => void }[] = []
  vi.stubGlobal('fetch', (_: unknown, init: RequestInit) => {
    const { operationName } = JSON.parse(String(init.body)) as { operationName: string }
    return new Promise((done) => {
      const answer = () =>
        done(Response.json({ data: { viewer: null } }, { headers: { 'Content-Type': 'application/json' } }))
      asked.push({ name: operationName, answer })
    })
  })
  const names = () => asked.map(({ name }) => name)
  const client = new Client({ url: '/graphql', preferGetMethod: false, exchanges: [readOnceMore, fetchExchange] })
  let answers = 0
  const { unsubscribe } = client.query(ViewerDocument, {}).subscribe(() => {
    answers += 1
  })
  const written = client
    .mutation(AddPartyDocument, {
      input: { mutation: newId('mut'), id: newId('pty'), kind: 'person', name: 'B. Oake' },
    })
    .toPromise()
  await vi.waitFor(() => expect(names()).toEqual(['Viewer', 'AddParty']))
  asked[1]?.answer()
  await written
  asked[0]?.answer() // begun before the change was made
  await vi.waitFor(() => expect(names()).toEqual(['Viewer', 'AddParty', 'Viewer']))
  asked[2]?.answer()
  await vi.waitFor(() => expect(answers).toBe(2))
  await new Promise((done) => setTimeout(done, 20))
  expect(names()).toHaveLength(3) // nothing was written since
  unsubscribe()
})
