import { type Dispatch, type SetStateAction, useEffect, useState } from 'react'

const prefix = 'typed/'
const owner = 'typed-by'

/**
 * What somebody types, kept in this tab until it was sent: it outlives a reload, a page that
 * a phone has put away, and a session that ended meanwhile. `forgetTyped` is for when it was sent.
 */
export function useTyped<T>(name: string, first: T): [T, Dispatch<SetStateAction<T>>] {
  const key = prefix + name
  const [value, set] = useState<T>(() => kept<T>(key) ?? first)
  const [untouched] = useState(() => JSON.stringify(first))
  useEffect(() => {
    const text = JSON.stringify(value)
    try {
      if (text === untouched) sessionStorage.removeItem(key)
      else sessionStorage.setItem(key, text)
    } catch {
      // no room, or none allowed: the form still works, and a reload begins anew
    }
  }, [key, value, untouched])
  return [value, set]
}

/** It was sent, or given up on purpose: everything whose name begins so. */
export function forgetTyped(name: string) {
  try {
    for (const key of Object.keys(sessionStorage)) if (key.startsWith(prefix + name)) sessionStorage.removeItem(key)
  } catch {
    // nothing was kept then
  }
}

/** Somebody signs in: what another person typed in this tab is nothing to them. */
export function typedBy(person: string) {
  try {
    if (sessionStorage.getItem(owner) !== person) forgetTyped('')
    sessionStorage.setItem(owner, person)
  } catch {
    // nothing was kept then
  }
}

function kept<T>(key: string): T | null {
  try {
    return JSON.parse(sessionStorage.getItem(key) ?? 'null')
  } catch {
    return null
  }
}
