import type { Behind } from '../../model/statements'

export interface LayerRow {
  kind: string
  what: string
  side?: 'port' | 'starboard' | 'centre' | null
  outline: unknown
  validFrom?: string | null
  validTo?: string | null
}

type Point = [along: number, down: number]
type Side = 'port' | 'starboard' | 'both'
export interface FigureLayer {
  name?: string
  side: Side
  kind: 'tank' | 'bulkhead' | 'outline'
  outline: Point[]
}
export interface FigureFitting {
  name?: string
  side: 'port' | 'starboard'
  along: number
  down: number
}

/**
 * What lies behind the skin on a day, for the figure and for the sentences: an outline is a thing with an
 * extent, a line is a bulkhead, a point goes through the skin. Metres from here on.
 */
export function whatLies(layers: readonly LayerRow[], on: string | undefined) {
  const out = { layers: [] as FigureLayer[], fittings: [] as FigureFitting[], behind: [] as Behind[] }
  for (const layer of layers) {
    if (layer.kind !== 'behind' || !holds(layer, on)) continue
    const outline = metresOf(layer.outline)
    const side: Side = layer.side === 'port' || layer.side === 'starboard' ? layer.side : 'both'
    if (outline.length === 1 && outline[0]) {
      const [along, down] = outline[0]
      for (const each of side === 'both' ? (['port', 'starboard'] as const) : [side])
        out.fittings.push({ name: layer.what, side: each, along, down })
    } else if (outline.length > 1) {
      out.layers.push({ name: layer.what, side, kind: outline.length === 2 ? 'bulkhead' : 'tank', outline })
      out.behind.push({ what: layer.what, side: side === 'both' ? null : side, outline })
    }
  }
  return out
}

/** A core stands behind its outer skin like anything else that holds water where the instrument reaches. */
const cored = /\b(core|cored|sandwich|balsa|foam)\b/i

/** What a dry place is to keep clear of on a day: whatever stands behind the skin, and cores drawn as areas. */
export function keepClearOf(layers: readonly LayerRow[], on: string): Behind[] {
  return layers
    .filter((layer) => layer.kind === 'behind' || (layer.kind === 'construction' && cored.test(layer.what)))
    .filter((layer) => holds(layer, on))
    .map(({ what, side, outline }) => ({
      what,
      side: side === 'port' || side === 'starboard' ? side : null,
      outline: metresOf(outline),
    }))
    .filter(({ outline }) => outline.length > 0)
}

const holds = ({ validFrom, validTo }: LayerRow, on: string | undefined) =>
  !on || ((!validFrom || validFrom <= on) && (!validTo || on < validTo))

function metresOf(outline: unknown): Point[] {
  if (!Array.isArray(outline)) return []
  return outline
    .filter(
      (point): point is Point => Array.isArray(point) && typeof point[0] === 'number' && typeof point[1] === 'number',
    )
    .map(([along, down]) => [along / 1000, down / 1000])
}
