import { useEffect, useState } from 'react'
import { type BlockCells, begin, type Trail } from '../../model/block'

/** A trail of edits that outlives a reload of the page: what is typed stays in this browser until it is kept. */
export function useTrail(name: string, first: BlockCells) {
  const [trail, setTrail] = useState<Trail>(() => begin(kept(name) ?? first))
  useEffect(() => {
    try {
      sessionStorage.setItem(name, JSON.stringify(trail.now))
    } catch {
      // no room, or none allowed: the page still works, and a reload begins anew
    }
  }, [name, trail.now])
  return { trail, setTrail, done: () => sessionStorage.removeItem(name) }
}

function kept(name: string): BlockCells | null {
  try {
    return JSON.parse(sessionStorage.getItem(name) ?? 'null')
  } catch {
    return null
  }
}
