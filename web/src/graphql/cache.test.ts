import { readdirSync, readFileSync } from 'node:fs'
import { cacheExchange } from '@urql/exchange-graphcache'
import { type FieldNode, type OperationDefinitionNode, parse } from 'graphql'
import { Client, fetchExchange } from 'urql'
import { afterEach, expect, it, vi } from 'vitest'
import { newId } from '../model/id'
import { cacheRules } from './cache'
import { ReinspectionsPageDocument, SetRecommendationStateDocument } from './gen/graphql'

afterEach(() => vi.unstubAllGlobals())

it('asks anew for the windows that a recommendation seen done answers', async () => {
  const asked: string[] = []
  vi.stubGlobal('fetch', (_: unknown, init: RequestInit) => {
    const { operationName } = JSON.parse(String(init.body)) as { operationName: string }
    asked.push(operationName)
    const reinspections = {
      __typename: 'ReinspectionConnection',
      counts: {
        __typename: 'ReinspectionCounts',
        due: 0,
        overdue: 0,
        later: 0,
        waiting: 0,
        booked: 0,
        snoozed: 0,
        declined: 0,
        answered: 0,
      },
      edges: [],
      pageInfo: { __typename: 'PageInfo', hasNextPage: false, endCursor: null },
    }
    const recommendation = { __typename: 'Recommendation', id: 'rec_1', state: 'seen done', states: [] }
    const data =
      operationName === 'ReinspectionsPage'
        ? { __typename: 'Query', reinspections }
        : {
            __typename: 'Mutation',
            setRecommendationState: { __typename: 'SetRecommendationStatePayload', recommendation },
          }
    return Promise.resolve(Response.json({ data }, { headers: { 'Content-Type': 'application/json' } }))
  })
  const client = new Client({
    url: '/graphql',
    preferGetMethod: false,
    exchanges: [cacheExchange(cacheRules), fetchExchange],
  })
  const due = client.query(ReinspectionsPageDocument, { show: 'due' }).subscribe(() => undefined)
  await vi.waitFor(() => expect(asked).toEqual(['ReinspectionsPage']))
  await client
    .mutation(SetRecommendationStateDocument, {
      input: { mutation: newId('mut'), id: newId('sta'), recommendation: 'rec_1', state: 'seen done', reason: '' },
    })
    .toPromise()
  await vi.waitFor(() => expect(asked).toEqual(['ReinspectionsPage', 'SetRecommendationState', 'ReinspectionsPage']))
  due.unsubscribe()
})

/** Mutations that make nothing old which another page shows, each with why. */
const aloneOnTheirPage: Record<string, string> = {
  addPaper: 'the job that is answered lists its papers, and nothing else does',
  addSection: 'words of a draft, which are answered',
  editSection: 'words of a draft, which are answered',
  orderSections: 'words of a draft, which are answered',
  commentOnDraft: 'a draft’s comments, which are answered',
  resolveComment: 'a draft’s comments, which are answered',
  shareReport: 'the report that is answered lists its links',
  revokeShare: 'the report that is answered lists its links',
  editPractice: 'the practice is answered, and is one thing wherever it stands',
  markHull: 'the visit that is answered lists its marks',
  removeMarks: 'the visit that is answered lists its marks',
  makeFeed: 'the settings ask again',
  revokeFeed: 'the settings ask again',
  grantUpload: 'a file on its way is shown nowhere',
  finishUpload: 'a file on its way is shown nowhere',
  sendShareCode: 'of a page without a cache: whoever holds a link',
  answerTask: 'of a page without a cache: whoever holds a link',
  grantClientPhoto: 'of a page without a cache: whoever holds a link',
  writeToPractice: 'of a page without a cache: whoever holds a link',
  permitSharing: 'of a page without a cache: whoever holds a link',
  withdrawSharing: 'of a page without a cache: whoever holds a link',
  acceptTerms: 'of a page without a cache: whoever holds a link',
}

const folder = new URL('../features/', import.meta.url)
const sent = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.graphql'))
  .flatMap((name) => parse(readFileSync(new URL(name, folder), 'utf8')).definitions)
  .filter(
    (each): each is OperationDefinitionNode => each.kind === 'OperationDefinition' && each.operation === 'mutation',
  )
  .flatMap(({ selectionSet }) => selectionSet.selections.map((one) => (one as FieldNode).name.value))

it('knows of every change what it makes old, or why it makes nothing old', () => {
  const rules = Object.keys(cacheRules.updates?.Mutation ?? {})
  expect(sent.filter((name) => !rules.includes(name) && !(name in aloneOnTheirPage))).toEqual([])
  expect(Object.keys(aloneOnTheirPage).filter((name) => rules.includes(name) || !sent.includes(name))).toEqual([])
})

it('forgets only what can be asked', () => {
  const schema = new URL('../../../graph/schema/', import.meta.url)
  const questions = readdirSync(schema)
    .filter((name) => name.endsWith('.graphqls'))
    .flatMap((name) => parse(readFileSync(new URL(name, schema), 'utf8')).definitions)
    .flatMap((each) =>
      (each.kind === 'ObjectTypeDefinition' || each.kind === 'ObjectTypeExtension') && each.name.value === 'Query'
        ? (each.fields ?? []).map(({ name }) => name.value)
        : [],
    )
  const named = [...readFileSync(new URL('cache.ts', import.meta.url), 'utf8').matchAll(/moves\(([^)]*)\)/g)].flatMap(
    ([, list = '']) => [...list.matchAll(/'(\w+)'/g)].map(([, name = '']) => name),
  )
  expect(named.length).toBeGreaterThan(100)
  expect(named.filter((name) => !questions.includes(name))).toEqual([])
})
