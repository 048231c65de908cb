/** Where construction, a coating or something behind the skin lies on a hull, as it is typed in metres. */

import { type Parsed, parseQuantity } from './number'

/** All of her; an area from a station to a station and from a depth to a depth; a line across; one point. */
export type Extent = 'whole' | 'area' | 'line' | 'point'

export interface Bounds {
  /** Metres forward of the aft perpendicular. */
  along: string
  alongTo: string
  /** Metres down the skin below the datum; negative above it. */
  down: string
  downTo: string
}

type Point = [along: number, down: number]

/** Which bounds an extent is given by. */
export const boundsOf: Record<Extent, (keyof Bounds)[]> = {
  whole: [],
  area: ['along', 'alongTo', 'down', 'downTo'],
  line: ['along', 'down', 'downTo'],
  point: ['along', 'down'],
}

/** The outline in millimetres: none for the whole hull, four corners, two ends, or a point. */
export function outlineOf(extent: Extent, typed: Bounds): Parsed<Point[]> {
  const at: Partial<Record<keyof Bounds, number>> = {}
  for (const bound of boundsOf[extent]) {
    const parsed = parseQuantity(typed[bound])
    if (!parsed.ok) return parsed
    at[bound] = Math.round(parsed.value * 1000)
  }
  const { along = 0, down = 0, alongTo = along, downTo = down } = at
  if (extent === 'area' && (along === alongTo || down === downTo))
    return { ok: false, why: 'An area is longer than a line: give it two ends each way.' }
  switch (extent) {
    case 'whole':
      return { ok: true, value: [] }
    case 'point':
      return { ok: true, value: [[along, down]] }
    case 'line':
      return {
        ok: true,
        value: [
          [along, down],
          [along, downTo],
        ],
      }
    case 'area':
      return {
        ok: true,
        value: [
          [along, down],
          [alongTo, down],
          [alongTo, downTo],
          [along, downTo],
        ],
      }
  }
}
