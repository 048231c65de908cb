/**
 * A typed codec between a page's choices and the query of its address: what was filtered, compared or
 * chosen stays in the address, so that it can be sent to a colleague and survives Back.
 * Unknown or damaged values fall back to the default; defaults are left out of the address.
 */
export interface Part<T> {
  read(raw: string | null): T
  /** null leaves the part out of the address. */
  write(value: T): string | null
}

export function text(fallback = ''): Part<string> {
  return { read: (raw) => raw ?? fallback, write: (value) => (value === fallback ? null : value) }
}

export function optional(): Part<string | null> {
  return { read: (raw) => (raw === '' ? null : raw), write: (value) => value }
}

export function oneOf<const T extends string>(choices: readonly T[], fallback: T): Part<T> {
  return {
    read: (raw) => choices.find((choice) => choice === raw) ?? fallback,
    write: (value) => (value === fallback ? null : value),
  }
}

export function flag(): Part<boolean> {
  return { read: (raw) => raw === '1', write: (value) => (value ? '1' : null) }
}

/** Whole numbers in a range; anything else is the fallback. */
export function whole(fallback: number, least: number, most: number): Part<number> {
  return {
    read: (raw) => {
      const value = raw !== null && /^\d{1,9}$/.test(raw) ? Number(raw) : fallback
      return value >= least && value <= most ? value : fallback
    },
    write: (value) => (value === fallback ? null : String(value)),
  }
}

/** Ids never hold a comma, so a list is its ids with commas between. */
export function list(): Part<readonly string[]> {
  return {
    read: (raw) => (raw ? raw.split(',').filter(Boolean) : []),
    write: (value) => (value.length ? value.join(',') : null),
  }
}

export type Parts = Record<string, Part<unknown>>
export type Search<P extends Parts> = { [K in keyof P]: P[K] extends Part<infer T> ? T : never }

export function readSearch<P extends Parts>(parts: P, from: URLSearchParams): Search<P> {
  return Object.fromEntries(Object.entries(parts).map(([name, part]) => [name, part.read(from.get(name))])) as Search<P>
}

/** The query for `next`, keeping whatever in `from` this page does not know. */
export function writeSearch<P extends Parts>(parts: P, next: Search<P>, from: URLSearchParams): URLSearchParams {
  const out = new URLSearchParams(from)
  for (const [name, part] of Object.entries(parts)) {
    const raw = part.write(next[name as keyof P])
    if (raw === null) out.delete(name)
    else out.set(name, raw)
  }
  return out
}
