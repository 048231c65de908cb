import type { BrowserContext } from 'playwright-core'
import { newId } from '../../src/model/id'
import { demo } from './open'

/** Sends a mutation as a program would, with the development key or another: "addVessel AddVesselInput". */
export async function send(context: BrowserContext, mutation: string, input: object): Promise<void> {
  const [call = '', type = ''] = mutation.split(' ')
  const said = await asKey(
    context,
    demo().apiKey,
    `mutation($input: ${type}!) { ${call}(input: $input) { __typename } }`,
    {
      input: { mutation: newId('mut'), ...input },
    },
  )
  if (said.errors?.length) throw new Error(`${call}: ${JSON.stringify(said.errors)}`)
}

/** Asks as the office's program would, with the development key, and gives the data of the answer. */
export async function program<Data>(context: BrowserContext, query: string, input: object = {}): Promise<Data> {
  const { data, errors } = await asKey(context, demo().apiKey, query, { input })
  if (errors?.length) throw new Error(JSON.stringify(errors))
  return data as Data
}

/** What the service answers to a key. */
export async function asKey(context: BrowserContext, key: string, query: string, variables: object = {}) {
  const answer = await context.request.post('/graphql', {
    headers: { Authorization: `Bearer ${key}`, 'Content-Type': 'application/json' },
    data: { query, variables },
  })
  const said = (await answer.json().catch(() => ({}))) as { data?: unknown; errors?: { message: string }[] }
  return { status: answer.status(), ...said }
}
