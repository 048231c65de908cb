import { fitVariogram, hatchFrom, Kriged, type Point, sampleVariogram } from '../measure/where'
import type { Reading, Surface } from './options'
import type { Shape } from './shape'

/** Between two cells of the lattice, m: finer than any plan, coarse enough to be there at once. */
const step = 0.1
/** Places without which no likeness by distance can be told. */
const fewest = 10

const nothing: Surface = { along: 0, across: 0, step, cols: 0, rows: 0, above: [], doubt: [], hatchFrom }

/**
 * The contrasts between the places of a pass with their doubt, over the skin laid flat and wrapped at the keel, so
 * that the two garboards are neighbours. Knows nothing where the places are too few to tell how alike near ones are.
 */
export function surface(h: Shape, readings: readonly Reading[]): Surface {
  const read = readings.filter((q) => !q.dry && !q.gap && q.step !== -1 && q.above !== undefined)
  if (read.length < fewest) return nothing
  const map = kriged(
    read.map((q): Point => ({ x: q.along, y: across(h, q) })),
    read.map(({ above }) => above as number),
  )
  if (!map) return nothing
  const deepest = Math.max(...h.xs.map((x) => h.girth(x)))
  const half = Math.ceil(deepest / step)
  const [cols, rows] = [Math.ceil((h.wetTo - h.wetFrom) / step) + 1, 2 * half + 1]
  const [along, first] = [h.wetFrom, -half * step]
  const above: number[] = []
  const doubt: number[] = []
  for (let j = 0; j < rows; j++)
    for (let i = 0; i < cols; i++) {
      const at = map.at({ x: along + i * step, y: first + j * step })
      above.push(at.value)
      doubt.push(at.doubt)
    }
  return { along, across: first, step, cols, rows, above, doubt, hatchFrom }
}

/** From the centreline over the skin, port negative. */
function across(h: Shape, { side, along, down }: Reading): number {
  const out = Math.max(0, h.girth(along) - down)
  return side === 'centre' ? 0 : side === 'port' ? -out : out
}

/** Null where places that cannot be told apart, or too few distances, leave no model. */
function kriged(points: Point[], y: number[]): Kriged | null {
  try {
    return new Kriged(points, y, fitVariogram(sampleVariogram(points, y)))
  } catch (error) {
    if (error instanceof RangeError) return null
    throw error
  }
}
