import type { BrowserContext } from 'playwright-core'

/** The newest letter to an address, as the service wrote it; a worker sends it, so it is waited for. */
export async function letter(context: BrowserContext, to: string): Promise<string> {
  for (let tries = 0; tries < 60; tries++) {
    const answer = await context.request.get('/dev/mails', { headers: { Accept: 'application/json' } })
    const { mails } = (await answer.json()) as { mails: Record<string, string>[] }
    const found = mails.find((mail) => Object.values(mail).some((part) => String(part).includes(to)))
    if (found) return Object.values(found).join('\n')
    await new Promise((done) => setTimeout(done, 500))
  }
  throw new Error(`no letter came to ${to}`)
}
