/** A place on the sheet, px. */
export interface Spot {
  id: string
  x: number
  y: number
}

const directions: Record<string, [dx: number, dy: number]> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
}

/**
 * Where a key leads from a place: an arrow to the nearest place that way (what lies aside counts double),
 * Home and End to the ends of its row, M to the mirror twin. Null where there is none.
 */
export function neighbour(spots: readonly Spot[], from: string, key: string, height: number): string | null {
  const here = spots.find(({ id }) => id === from)
  if (!here) return null
  const others = spots.filter(({ id }) => id !== from)
  if (key === 'm' || key === 'M')
    return others.find(({ x, y }) => Math.abs(x - here.x) < 1 && Math.abs(y - (height - here.y)) < 1)?.id ?? null
  if (key === 'Home' || key === 'End') {
    const row = spots.filter(({ y }) => Math.abs(y - here.y) < 1).sort((a, b) => a.x - b.x)
    const end = row.at(key === 'Home' ? 0 : -1)
    return end && end.id !== from ? end.id : null
  }
  const way = directions[key]
  if (!way) return null
  let best: string | null = null
  let least = Infinity
  for (const { id, x, y } of others) {
    const ahead = (x - here.x) * way[0] + (y - here.y) * way[1]
    const aside = Math.abs((x - here.x) * way[1]) + Math.abs((y - here.y) * way[0])
    const far = ahead + 2 * aside
    if (ahead > 1 && far < least) {
      best = id
      least = far
    }
  }
  return best
}

/** The place nearest to a point, if none is further than `reach` px. */
export function nearest(spots: readonly Spot[], x: number, y: number, reach: number): string | null {
  let best: string | null = null
  let least = reach
  for (const spot of spots) {
    const far = Math.hypot(spot.x - x, spot.y - y)
    if (far <= least) {
      best = spot.id
      least = far
    }
  }
  return best
}
