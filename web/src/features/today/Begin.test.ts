import { expect, it } from 'vitest'
import type { FirstStepsQuery } from '../../graphql/gen/graphql'
import { steps } from './Begin'

const none: FirstStepsQuery = {
  __typename: 'Query',
  viewer: {
    __typename: 'Viewer',
    practice: { __typename: 'Practice', id: 'prc_1', address: '', email: '', timeZone: 'Etc/UTC' },
  },
  jobs: { __typename: 'JobConnection', edges: [] },
  engagements: { __typename: 'EngagementConnection', edges: [] },
  parties: { __typename: 'PartyConnection', edges: [] },
  terms: [],
  measuring: { __typename: 'Measuring', scales: [] },
}

it('asks a new practice for everything, each with a way there', () => {
  const list = steps(none)
  expect(list.map(({ done }) => done)).toEqual(list.map(() => false))
  expect(list.every(({ way }) => way.to.startsWith('/'))).toBe(true)
})

it('takes a time zone that was never chosen for missing, and one scale measured for enough', () => {
  const practice = {
    __typename: 'Practice' as const,
    id: 'prc_1',
    address: '1 Quay',
    email: 'a@quay.example',
    timeZone: 'Etc/UTC',
  }
  const [particulars, , instrument, scatter] = steps({
    ...none,
    viewer: { ...none.viewer, practice },
    measuring: {
      ...none.measuring,
      scales: [
        { __typename: 'Precision', enough: false },
        { __typename: 'Precision', enough: true },
      ],
    },
  })
  expect([particulars?.done, instrument?.done, scatter?.done]).toEqual([false, true, true])
  expect(
    steps({ ...none, viewer: { ...none.viewer, practice: { ...practice, timeZone: 'Europe/Dublin' } } })[0]?.done,
  ).toBe(true)
})
