import { cacheExchange } from '@urql/exchange-graphcache'
import { Client, fetchExchange } from 'urql'
import { afterEach, expect, it, vi } from 'vitest'
import { cacheRules } from './cache'
import { UnseenDocument } from './gen/graphql'
import { keepLast } from './keepLast'

afterEach(() => vi.unstubAllGlobals())

const answer = (body: object) =>
  Promise.resolve(Response.json(body, { headers: { 'Content-Type': 'application/json' } }))
const told = (unseen: number) => ({
  data: { __typename: 'Query', notices: { __typename: 'NoticeConnection', unseen } },
})

it('a question that fails takes nothing away that was answered before', async () => {
  let next = () => answer(told(3))
  vi.stubGlobal('fetch', () => next())
  const client = new Client({
    url: '/graphql',
    preferGetMethod: false,
    exchanges: [keepLast, cacheExchange(cacheRules), fetchExchange],
  })
  const ask = () => client.query(UnseenDocument, {}, { requestPolicy: 'network-only' }).toPromise()
  expect((await ask()).data?.notices.unseen).toBe(3)

  next = () => Promise.reject(new TypeError('the line is gone'))
  const lost = await ask()
  expect([lost.data?.notices.unseen, Boolean(lost.error?.networkError)]).toEqual([3, true])

  next = () => answer({ data: null, errors: [{ message: 'Not yours any more.', extensions: { code: 'FORBIDDEN' } }] })
  expect((await ask()).data ?? null).toBeNull() // what may not be seen goes

  next = () => answer(told(4))
  expect((await ask()).data?.notices.unseen).toBe(4)
})
