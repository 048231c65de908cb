import { readFileSync } from 'node:fs'
import { type Browser, type BrowserContext, chromium, type Page, type Request } from 'playwright-core'

/** Where the running demonstration is, as cmd/dev wrote it down. */
export interface Demo {
  address: string
  apiKey: string
  client: { email: string; password: string }
  signIns: { practice: string; role: string; email: string; password: string }[]
}

export const themes = ['paper', 'shed', 'glare'] as const
export type Theme = (typeof themes)[number]
export const sizes = { phone: { width: 390, height: 844 }, desk: { width: 1440, height: 900 } } as const

export function demo(): Demo {
  const file = process.env.BOOTTOP_DEMO ?? new URL('../../../.local/demo.json', import.meta.url).pathname
  const read = JSON.parse(readFileSync(file, 'utf8')) as Demo
  return { ...read, address: (process.env.BOOTTOP_URL ?? read.address).replace(/\/$/, '') }
}

export function launch(): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--headless', '--disable-gpu', '--disable-background-networking'],
  })
}

export interface Looks {
  size?: keyof typeof sizes
  theme?: Theme
}

/** A context of its own; whatever the page throws or refuses to load is gathered in `faults`. */
export async function open(browser: Browser, { size = 'desk', theme = 'paper' }: Looks = {}) {
  const context = await browser.newContext({
    baseURL: demo().address,
    viewport: sizes[size],
    deviceScaleFactor: size === 'phone' ? 2 : 1,
    hasTouch: size === 'phone',
    reducedMotion: 'reduce',
  })
  await context.addInitScript((name) => {
    try {
      localStorage.setItem('theme', name)
    } catch {
      // a document without storage of its own, a PDF for one
    }
  }, theme)
  context.setDefaultTimeout(60_000)
  context.on('page', listen)
  const faults: string[] = []
  context.on('weberror', (error) => faults.push(String(error.error())))
  context.on('console', (message) => {
    // A request that was refused on purpose is said by the page; the browser notes it here as well.
    if (message.type() === 'error' && !/Failed to load resource/.test(message.text())) faults.push(message.text())
  })
  return { context, page: await context.newPage(), faults }
}

/** Signs in through the page, as a person would. */
export async function signIn(page: Page, role = 'surveyor', practice = demo().signIns[0]?.practice) {
  const all = demo().signIns.filter((each) => each.role.includes(role) && each.practice === practice)
  const who = all.find((each) => each.role === role) ?? all[0]
  if (!who) throw new Error(`the demo has no ${role} in ${practice}`)
  await page.goto('/sign-in')
  await page.getByLabel('E-mail').fill(who.email)
  await page.getByLabel('Password').fill(who.password)
  await page.getByRole('button', { name: 'Sign in' }).click()
  await page.waitForURL('**/today')
  return who
}

/** What each page has asked for and not yet got. */
const asked = new WeakMap<Page, Set<Request>>()

function listen(page: Page) {
  const underWay = new Set<Request>()
  asked.set(page, underWay)
  page.on('request', (request) => {
    if (request.isNavigationRequest()) underWay.clear() // nobody waits for what the page before had asked
    underWay.add(request)
  })
  page.on('requestfinished', (request) => underWay.delete(request))
  page.on('requestfailed', (request) => underWay.delete(request))
}

/** Waits until a page stands: its heading, no lines still waiting, nothing asked for, faces loaded. */
export async function settle(page: Page) {
  const begun = Date.now()
  for (let quiet = 0; quiet < 2; ) {
    await page.waitForFunction(() => document.querySelector('h1') && !document.querySelector('.waiting'))
    // What an answer leads to is asked for within a frame or two.
    await page.evaluate(() => new Promise((done) => setTimeout(done, 40)))
    quiet = asked.get(page)?.size ? 0 : quiet + 1
    if (Date.now() - begun > 60_000) throw new Error(`${page.url()} asks for something without end`)
  }
  await page.evaluate(() => document.fonts.ready.then(() => undefined))
}

const manifest = JSON.parse(
  readFileSync(new URL('../../src/graphql/gen/persisted-documents.json', import.meta.url), 'utf8'),
) as Record<string, string>

/** Asks one of the client's own stored operations with the session of a context. */
export async function ask<Data>(context: BrowserContext, operation: string, variables: object = {}): Promise<Data> {
  const hash = Object.keys(manifest).find((key) =>
    new RegExp(`\\b(query|mutation) ${operation}\\b`).test(manifest[key] ?? ''),
  )
  if (!hash) throw new Error(`no stored operation ${operation}`)
  const answer = await context.request.post('/graphql', {
    headers: { 'X-Boottop': '1', 'Content-Type': 'application/json' },
    data: { operationName: operation, variables, extensions: { persistedQuery: { version: 1, sha256Hash: hash } } },
  })
  const said = (await answer.json()) as { data?: Data; errors?: { message: string }[] }
  if (!said.data || said.errors?.length) throw new Error(`${operation}: ${JSON.stringify(said.errors ?? said)}`)
  return said.data
}

export interface Mail {
  to: string
  subject: string
  body: string
}

/** The newest mail to somebody, of a subject where one is given, waited for: letters go out by a job. */
export async function mailTo(context: BrowserContext, to: string, subject = /./): Promise<Mail> {
  for (let turn = 0; turn < 300; turn++) {
    const answer = await context.request.get('/dev/mails', { headers: { Accept: 'application/json' } })
    const { mails } = (await answer.json()) as { mails: Mail[] }
    const found = mails.find((mail) => mail.to.includes(to) && subject.test(mail.subject))
    if (found) return found
    await new Promise((done) => setTimeout(done, 200))
  }
  throw new Error(`no mail came to ${to}`)
}
