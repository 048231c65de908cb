import { readdirSync, readFileSync } from 'node:fs'
import { type FieldNode, type OperationDefinitionNode, parse } from 'graphql'
import { expect, it } from 'vitest'

/** Mutations that programs alone send, each with why no page does. */
const forPrograms: Record<string, string> = {
  addJob:
    'a job of the page comes of an enquiry, with its conflict check, quote and terms; a program brings in those made elsewhere',
}

const src = new URL('../', import.meta.url)
const files = (folder: URL, end: string) =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith(end) && !name.includes('graphql/gen'))
    .map((name) => readFileSync(new URL(name, folder), 'utf8'))

const offered = files(new URL('../../../graph/schema/', import.meta.url), '.graphqls').flatMap((text) =>
  parse(text).definitions.flatMap((each) =>
    (each.kind === 'ObjectTypeDefinition' || each.kind === 'ObjectTypeExtension') && each.name.value === 'Mutation'
      ? (each.fields ?? []).map(({ name }) => name.value)
      : [],
  ),
)

const asked = files(src, '.graphql')
  .flatMap((text) => parse(text).definitions)
  .filter(
    (each): each is OperationDefinitionNode => each.kind === 'OperationDefinition' && each.operation === 'mutation',
  )
  .map((each) => ({
    name: each.name?.value ?? '',
    fields: each.selectionSet.selections
      .filter((one): one is FieldNode => one.kind === 'Field')
      .map((one) => one.name.value),
  }))

it('reads the schema and the client’s documents', () => {
  expect(offered.length).toBeGreaterThan(100)
  expect(asked.length).toBeGreaterThan(100)
})

it('has a screen for every use case: what no document asks, no practice can do', () => {
  const reached = new Set(asked.flatMap(({ fields }) => fields))
  expect(offered.filter((name) => !reached.has(name) && !(name in forPrograms))).toEqual([])
  expect(Object.keys(forPrograms).filter((name) => reached.has(name) || !offered.includes(name))).toEqual([])
})

it('has no mutation document that no screen sends', () => {
  const code = [...files(src, '.tsx'), ...files(src, '.ts')].join('\n')
  const unsent = asked.map(({ name }) => name).filter((name) => !code.includes(`${name}Document`))
  expect(unsent).toEqual([])
})
