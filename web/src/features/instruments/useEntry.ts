import { useEffect, useState } from 'react'
import { type BlockCells, begin, type Trail } from '../../model/block'
import { useTyped } from '../../ui/useTyped'

/** A trail of edits that outlives a reload of the page, by its name: what is typed stays in this tab until it is kept. */
export function useTrail(name: string, first: BlockCells) {
  const [now, keep] = useTyped(name, first)
  const [trail, setTrail] = useState<Trail>(() => begin(now))
  useEffect(() => keep(trail.now), [keep, trail.now])
  return { trail, setTrail }
}
