import { useEffect, useLayoutEffect, useRef, useState, useSyncExternalStore } from 'react'

/** The width of an element in whole pixels, as it is laid out. */
export function useWidth<E extends HTMLElement>(first: number) {
  const ref = useRef<E>(null)
  const [width, setWidth] = useState(first)
  useLayoutEffect(() => {
    if (ref.current) setWidth(Math.floor(ref.current.clientWidth))
  }, [])
  useEffect(() => {
    const element = ref.current
    if (!element) return
    const watch = new ResizeObserver(() => setWidth(Math.floor(element.clientWidth)))
    watch.observe(element)
    return () => watch.disconnect()
  }, [])
  return [ref, width] as const
}

/** True on pages at most this wide; with `screen`, never on paper. */
export function useNarrow(most: number, on?: 'screen'): boolean {
  const query = `${on ? `${on} and ` : ''}(max-width: ${most}px)`
  return useSyncExternalStore(
    (tell) => {
      const list = matchMedia(query)
      list.addEventListener('change', tell)
      return () => list.removeEventListener('change', tell)
    },
    () => matchMedia(query).matches,
  )
}
