/** Sign-in over plain HTTP: cookies are set by the service and never seen here. */

export interface AuthFault {
  code: string
  message: string
  field?: string
}
export interface PracticeChoice {
  id: string
  name: string
  roles: string[]
}
export interface SignedIn {
  practices: PracticeChoice[]
  practice: string | null
}

/** Whose invitation it is, told to whoever holds the letter before anything is accepted. */
export interface Invited {
  practice: string
  email: string
  name: string
  roles: string[]
  /** The address has an account already: its own password is asked for. */
  account: boolean
}

export class Refused extends Error {
  readonly code: string
  readonly field: string | undefined
  constructor(fault: AuthFault) {
    super(fault.message)
    this.code = fault.code
    this.field = fault.field || undefined
  }
}

/** Whatever was thrown while something was asked, as the service would have refused it. */
export function refused(error: unknown): Refused {
  return error instanceof Refused ? error : new Refused({ code: 'Internal', message: String(error) })
}

/** Every writing request names its origin with a header that a foreign form cannot send. */
export const ownHeader = { 'X-Boottop': '1' }

async function post<T>(path: string, body: unknown = {}): Promise<T> {
  let answer: Response
  try {
    answer = await fetch(path, {
      method: 'POST',
      credentials: 'same-origin',
      headers: { 'Content-Type': 'application/json', ...ownHeader },
      body: JSON.stringify(body),
    })
  } catch {
    throw new Refused({
      code: 'Offline',
      message: 'The service cannot be reached. Check the connection and try again.',
    })
  }
  const said = await answer.json().catch(() => null)
  if (answer.ok) return (said ?? {}) as T
  throw new Refused(
    said?.error ?? { code: 'Internal', message: `The service answered ${answer.status}. Try again in a minute.` },
  )
}

export const auth = {
  signIn: (email: string, password: string, practice?: string) =>
    post<SignedIn>('/auth/sign-in', { email, password, ...(practice ? { practice } : {}) }),
  signOut: () => post('/auth/sign-out'),
  /** Takes the code of a letter for a link that asks for one before it opens. */
  proveLink: (token: string, code: string) => post(`/share/${encodeURIComponent(token)}/code`, { code }),
  askReset: (email: string) => post('/auth/reset', { email }),
  finishReset: (token: string, password: string) => post('/auth/reset/finish', { token, password }),
  lookAtInvitation: (token: string) => post<Invited>('/auth/invitation/look', { token }),
  acceptInvitation: (token: string, name: string, password: string) =>
    post<SignedIn>('/auth/invitation', { token, name, password }),
}

/** Reports kept in an account by a client: a session of its own, beside that of any member. */
export const keptReports = {
  keep: (link: string, code: string, password: string) => post('/auth/reports', { link, code, password }),
  signIn: (email: string, password: string) => post('/auth/reports/sign-in', { email, password }),
  signOut: () => post('/auth/reports/sign-out'),
}

let under: Promise<Refused | null> | undefined

/**
 * Renews the session once, however many requests noticed at the same time; the lock holds other tabs
 * back, because a refresh token is good for one use. Answers why not, where it was refused.
 */
export function refresh(): Promise<Refused | null> {
  const once = () => post('/auth/refresh').then(() => null, refused)
  under ??= (navigator.locks ? navigator.locks.request('boottop-refresh', once) : once()).finally(() => {
    under = undefined
  })
  return under
}
