import { useCallback, useMemo } from 'react'
import { useLocation, useSearchParams } from 'react-router'
import { type Parts, readSearch, type Search, writeSearch } from '../model/search'

/** The page's choices, kept in its address. A change replaces the entry unless `push` is asked for. */
export function useSearch<P extends Parts>(parts: P) {
  const [params, setParams] = useSearchParams()
  const { pathname } = useLocation()
  const value = useMemo(() => readSearch(parts, params), [parts, params])
  const set = useCallback(
    (change: Partial<Search<P>>, { push = false } = {}) => {
      // A page that still stands while the next one is fetched no longer writes the address: that would call it back.
      if (window.location.pathname !== pathname) return
      setParams((now) => writeSearch(parts, { ...readSearch(parts, now), ...change }, now), {
        replace: !push,
        preventScrollReset: true,
      })
    },
    [parts, pathname, setParams],
  )
  return [value, set] as const
}
