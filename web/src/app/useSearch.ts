import { useCallback, useMemo } from 'react'
import { useSearchParams } from 'react-router'
import { type Parts, readSearch, type Search, writeSearch } from '../model/search'

/** The page's choices, kept in its address. A change replaces the entry unless `push` is asked for. */
export function useSearch<P extends Parts>(parts: P) {
  const [params, setParams] = useSearchParams()
  const value = useMemo(() => readSearch(parts, params), [parts, params])
  const set = useCallback(
    (change: Partial<Search<P>>, { push = false } = {}) =>
      setParams((now) => writeSearch(parts, { ...readSearch(parts, now), ...change }, now), {
        replace: !push,
        preventScrollReset: true,
      }),
    [parts, setParams],
  )
  return [value, set] as const
}
