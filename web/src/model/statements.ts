import { type Edges, type HistoryPass, middle, type Said, type Spot, said, stands, units } from './history'
import { surfaced } from './kinds'

/**
 * What may be said of one pass from its own figures. The words follow the vocabulary of domain/report. What may be
 * said of two passes, and what was not seen, is the service's to say: see gate.ts.
 */
export interface Statement {
  /** Which sentence it is. */
  code: string
  mark:
    | 'above'
    | 'none'
    | 'up'
    | 'down'
    | 'untold'
    | 'unread'
    | 'record'
    | 'unlike'
    | 'quoted'
    | 'finding'
    | 'window'
    | 'watch'
    | 'further'
  /** Plain and strong in turn: the first is plain and may be empty. */
  runs: string[]
  /** What stands behind it, or what to do next. */
  proof: string
  /** Slots of the places it speaks of, to be shown on the hull. */
  slots: readonly number[]
  figures: { name: string; value: string }[]
  /** Sentences that stand behind it. */
  behind?: readonly string[]
}

export interface PassContext extends HistoryPass {
  surface: string
  drySurface: string
  daysAshore?: number | null
  instrument?: { name: string } | null
  instrumentAsWritten: string
  blockChecks: { block: string; moment: string; valueTenths: number }[]
  missing: { text: string }[]
}

export interface Behind {
  what: string
  side: 'port' | 'starboard' | 'centre' | null
  /** Metres, along and down. */
  outline: readonly (readonly [number, number])[]
}

/** Middles and ends are said to a tenth of a unit and no finer. */
const one = (twentieths: number) => units(2 * Math.round(twentieths / 2))
const plural = (n: number, one: string, many: string) => `${n} ${n === 1 ? one : many}`

export function statements(
  spots: readonly Spot[],
  pass: PassContext,
  edges: Edges | null,
  behind: readonly Behind[],
): Statement[] {
  return [level(spots, pass), edges && highest(spots, pass, edges, behind), context(pass)].filter((s): s is Statement =>
    Boolean(s),
  )
}

function level(spots: readonly Spot[], now: PassContext): Statement {
  const wet = contrasts(spots, now)
  const mid = middle(wet)
  const { medianFortieths, scatter, count, reasons } = now.baseline
  if (mid === null || medianFortieths == null || scatter == null)
    return {
      code: 'level',
      mark: 'untold',
      runs: ['', 'No dry baseline', ': readings are shown as taken and stand above nothing.'],
      proof: reasons.map(({ text }) => text).join('; ') || 'No place of the plan was read yet',
      slots: [],
      figures: [],
    }
  const surface = now.surface ? `, ${surfaced(now.surface)},` : ''
  return {
    code: 'level',
    mark: 'above',
    runs: [
      `The underbody${surface} stood `,
      one(mid),
      ` above this hull’s own dry baseline, ${(medianFortieths / 40).toFixed(1)} on ${now.drySurface ? `${surfaced(now.drySurface)} ` : ''}topsides.`,
    ],
    slots: [],
    figures: [],
    proof: [
      `${plural(wet.length, 'place', 'places')} against ${count}; scatter ${scatter.toFixed(1)} (1.4826 × MAD)`,
      ...drift(now),
    ].join('; '),
  }
}

/** What the instrument did between its block checks, low block before against low block after. */
function drift({ blockChecks }: PassContext): string[] {
  return ['low', 'high'].flatMap((block) => {
    const at = (moment: string) => blockChecks.find((check) => check.block === block && check.moment === moment)
    const [before, after] = [at('before'), at('after')]
    if (!before || !after) return []
    return [`${block} block drifted ${(Math.abs(after.valueTenths - before.valueTenths) / 10).toFixed(1)}`]
  })
}

const contrasts = (spots: readonly Spot[], pass: HistoryPass): number[] =>
  spots.flatMap(({ slot }) => {
    const it = said(pass, slot)
    return stands(it) && it.contrast !== null ? [it.contrast] : []
  })

/** The places of the two upper steps: where they lie, what lies behind them, how their mirrors stand. */
function highest(spots: readonly Spot[], now: PassContext, edges: Edges, behind: readonly Behind[]): Statement | null {
  const top = edges[3]
  const high = spots.filter(({ slot }) => {
    const it = said(now, slot)
    return stands(it) && it.contrast !== null && it.contrast / 20 >= top
  })
  if (high.length === 0) return null
  const lower = high.filter(({ slot, mirror }) => {
    const twin = mirror === null ? null : said(now, mirror)
    const own = said(now, slot) as Said & { contrast: number }
    return twin?.contrast != null && stands(twin) && own.contrast - twin.contrast >= 20 * (edges[1] ?? 0)
  })
  const over = behind
    .map((thing) => ({ thing, n: high.filter((spot) => lies(spot, thing)).length }))
    .filter(({ n }) => n > 0)
    .sort((a, b) => b.n - a.n)[0]
  return {
    code: 'highest',
    mark: 'above',
    runs: [
      '',
      plural(high.length, 'place stands', 'places stand'),
      [
        ` ${top} or more above the baseline: ${where(high)}.`,
        lower.length ? ` Mirror lower by ${edges[1]} or more at ${lower.length} of ${high.length}.` : '',
        over ? ` ${plural(over.n, 'lies', 'lie')} over the ${over.thing.what}.` : '',
      ].join(''),
    ],
    figures: [],
    proof: over
      ? 'Points towards a thing behind. Next: empty it, read again'
      : 'Readings alone name no cause. Next: tap, inside and out',
    slots: high.map(({ slot }) => slot),
  }
}

/** "port 12/2, 12/4 and 13/2; starboard 9/3", six at most a side. */
function where(high: readonly Spot[]): string {
  return (['port', 'starboard', 'centre'] as const)
    .flatMap((side) => {
      const labels = high.filter((spot) => spot.side === side).map((spot) => spot.label)
      if (labels.length === 0) return []
      const shown = labels.slice(0, 6).join(', ')
      return [`${side} ${shown}${labels.length > 6 ? ` and ${labels.length - 6} more` : ''}`]
    })
    .join('; ')
}

/** Whether a place lies over a thing's outline; even-odd rule. */
export function lies(spot: Pick<Spot, 'side' | 'along' | 'down'>, { side, outline }: Behind): boolean {
  if (side !== null && side !== spot.side) return false
  if (outline.length < 3) return false
  let inside = false
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const [xi, yi] = outline[i] as readonly [number, number]
    const [xj, yj] = outline[j] as readonly [number, number]
    if (yi > spot.down !== yj > spot.down && spot.along < ((xj - xi) * (spot.down - yi)) / (yj - yi) + xi)
      inside = !inside
  }
  return inside
}

/** What a pass lacks or had against it, in a word each; what each costs is one step away. */
function context({ missing }: PassContext): Statement | null {
  if (missing.length === 0) return null
  const short = ({ text }: { text: string }) => {
    const first = text.split(':')[0]?.replace(/\.$/, '') ?? ''
    return first.charAt(0).toLowerCase() + first.slice(1)
  }
  return {
    code: 'missing',
    mark: 'record',
    slots: [],
    figures: [],
    runs: ['', 'Worth less', `: ${missing.map(short).join('; ')}.`],
    proof: 'What is missing stays missing; nothing is guessed',
    behind: missing.map(({ text }) => text),
  }
}
