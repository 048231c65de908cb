import type { Pin } from '../../figure/options'
import type { Spot } from '../../model/history'
import { middleOf, outlineOf } from '../../model/outline'
import type { VisitStory } from './useVisits'

/** How far beside the mark of its place, so that the figure there stays to be read; metres forward and down. */
const aside = { finding: [0.17, 0.1], photo: [-0.17, 0.1] } as const

/** What was found, bared and photographed at a visit, where it lies on the skin. */
export function pinsOf(visit: VisitStory | null, spots: readonly Spot[]): Pin[] {
  if (!visit) return []
  const beside = (id: string, kind: keyof typeof aside, ordinal: number): Pin[] => {
    const spot = spots[ordinal - 1]
    if (!spot) return []
    const [along, down] = aside[kind]
    return [{ id, kind, side: spot.side, along: spot.along + along, down: spot.down + down }]
  }
  return [
    ...visit.windows.map(
      ({ id, side, alongMm, downMm }): Pin => ({
        id,
        kind: 'window',
        side,
        along: alongMm / 1000,
        down: downMm / 1000,
      }),
    ),
    ...visit.findings.flatMap(({ id, places }) =>
      places.flatMap((place) => (place === null ? [] : beside(`${id} ${place}`, 'finding', place))),
    ),
    ...visit.findings.flatMap(({ id, side, outline }): Pin[] => {
      const drawn = outlineOf(side, outline)
      if (!drawn.side) return []
      const [along, down] = middleOf(drawn)
      const corners = drawn.corners.map(([x, y]): [number, number] => [x / 1000, y / 1000])
      return [{ id: `${id} outline`, kind: 'finding', side: drawn.side, along, down, outline: corners }]
    }),
    ...visit.photos.flatMap(({ id, place }) => (place == null ? [] : beside(id, 'photo', place))),
  ]
}

/** Why a place was not reached in a pass; empty where nothing was noted. */
export function unreachedBecause(visit: VisitStory | null, pass: string, spot: Spot): string {
  const found = visit?.passes.find(({ id }) => id === pass)
  return found?.notReached.find(({ place }) => place === spot.slot + 1)?.reason ?? ''
}
