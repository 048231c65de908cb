import { afterEach, expect, it, vi } from 'vitest'
import { makeOutsideClient } from './client'
import { ViewerDocument } from './gen/graphql'

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
