import type { Browser, BrowserContext } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/model/id'
import { launch, open } from './open'
import { program } from './program'

let browser: Browser
beforeAll(async () => {
  browser = await launch()
})
afterAll(() => browser?.close())

/** An enquiry about a boat of the practice, with a quote and no conflict, offered to its client. */
async function offered(context: BrowserContext): Promise<{ link: string; code: string }> {
  const { vessels, terms } = await program<{
    vessels: { edges: { node: { id: string } }[] }
    terms: { id: string }[]
  }>(context, '{ vessels(first: 1, search: "Tamsel") { edges { node { id } } } terms { id } }', {})
  const engagement = newId('eng')
  await program(context, 'mutation($input: AddEnquiryInput!) { addEnquiry(input: $input) { engagement { id } } }', {
    mutation: newId('mut'),
    id: engagement,
    vessel: vessels.edges[0]?.node.id,
    askedBy: 'L. Harrack',
    kind: 'limited moisture',
  })
  const set = await program<{ setQuote: { engagement: { version: number } } }>(
    context,
    'mutation($input: SetQuoteInput!) { setQuote(input: $input) { engagement { version } } }',
    {
      mutation: newId('mut'),
      engagement,
      version: 1,
      lines: [{ text: 'Limited survey', amountMinor: 48000, taxPermille: 230 }],
    },
  )
  await program(
    context,
    'mutation($input: DecideConflictInput!) { decideConflict(input: $input) { engagement { id } } }',
    {
      mutation: newId('mut'),
      engagement,
      version: set.setQuote.engagement.version,
      decision: 'go on',
      note: 'Nobody known to us but as her owner.',
    },
  )
  const { offerTerms } = await program<{ offerTerms: { link: string; code: string } }>(
    context,
    'mutation($input: OfferTermsInput!) { offerTerms(input: $input) { link code } }',
    {
      mutation: newId('mut'),
      id: newId('tln'),
      engagement,
      terms: terms[0]?.id,
      name: 'L. Harrack',
      email: 'l.harrack@post.example',
      until: new Date(Date.now() + 20 * 86_400_000).toISOString(),
    },
  )
  return offerTerms
}

it('a client reads an offer by link and accepts it with the code of the letter', { timeout: 120_000 }, async () => {
  const { context, page, faults } = await open(browser, { size: 'phone' })
  const { link, code } = await offered(context)
  await page.goto(new URL(link).pathname)
  await page.getByRole('heading', { name: 'Tamsel' }).waitFor()
  await page.getByText('€590.40').waitFor()
  // A request to begin early is in the practice's own words; without them nothing is asked.
  await page.getByText('I ask you expressly to begin before the time in which I may withdraw is over').waitFor()
  await page.getByLabel('Your name').fill('L. Harrack')
  await page.getByLabel('The code from the letter').fill('AAAA-BBBB')
  await page.getByRole('button', { name: 'Accept these terms' }).click()
  await page.getByRole('alert').waitFor()
  await page.getByLabel('The code from the letter').fill(code)
  await page.getByRole('button', { name: 'Accept these terms' }).click()
  await page.getByText('Accepted by L. Harrack', { exact: false }).waitFor()
  await page.reload()
  await page.getByText('Accepted by L. Harrack', { exact: false }).waitFor()
  expect(await page.getByRole('button', { name: 'Accept these terms' }).count()).toBe(0)
  expect(faults).toEqual([])
  await context.close()
})
