import { type Fortieth, isExact, madOf, medianOf, medianRank, minus, type Span, scaleOfMAD, spanOf } from './order'
import type { Value } from './value'

/** A reading at a place the plan names as dry. */
export interface DryPlace {
  value: Value
  side: 'port' | 'starboard' | 'centre' | ''
  /** Above the top of the boot-top, along the skin, mm; null where it was not recorded. */
  above: number | null
  /** What was read on; equal words are like surfaces. */
  surface: string
}

/** What a practice may change; all common practice, no source. */
export interface Settings {
  /** Dry places needed. */
  least: number
  /** How far above the boot-top a dry place must lie, mm. */
  clear: number
  /** Largest scatter as a share of the underbody's contrast. */
  share: number
  /** Smallest step of the scale, units; half of it is the least scatter. */
  step: number
  /** Coverage asked of the median's interval. */
  level: number
  /** The surface of last time; '' takes the one most places have. */
  surface: string
  bothSides: boolean
}

export const defaults: Settings = {
  least: 6,
  clear: 250,
  share: 0.25,
  step: 0.1,
  level: 0.95,
  surface: '',
  bothSides: true,
}

/** Why a pass has no baseline, with the figures behind it: counts, or scale units. */
export interface Reason {
  why: 'too-few' | 'height-unknown' | 'one-side' | 'at-scale-end' | 'too-spread' | 'not-below' | 'no-underbody'
  have: number
  need: number
}

export interface LeftOut {
  index: number
  why: 'too-low' | 'height-unknown' | 'other-surface'
}

/** The dry level of one pass, or every reason why it has none. What could be worked out stands in either case. */
export interface Baseline {
  /** Of the dry places, fortieths; null where none could be used. */
  median: Span | null
  /** 1.4826 × MAD, at least half a step of the scale, units; null where it is not known. */
  scatter: number | null
  /** The floor was taken, because the MAD was smaller. */
  floored: boolean
  /** Distribution-free interval of the median, units; open where there are too few places. */
  lower: number
  upper: number
  /** What that interval covers; 0 where it is open. */
  covers: number
  surface: string
  port: number
  starboard: number
  count: number
  underbody: Span | null
  /** Of the underbody's median over the dry one, fortieths. */
  contrast: Span | null
  reasons: Reason[]
  leftOut: LeftOut[]
}

/**
 * Judges the dry places of one pass: domain/measure/baseline.Of in Go.
 *
 *   dry    first readings at the places the plan names as dry
 *   under  readings of the underbody in the same pass, of one group of like surface and construction
 */
export function baselineOf(dry: readonly DryPlace[], under: readonly Value[], s: Settings = defaults): Baseline {
  const surface = s.surface || commonest(dry)
  const leftOut = dry.flatMap((p, index) => {
    const why = unfit(p, surface, s)
    return why ? [{ index, why }] : []
  })
  const used = dry.filter((p) => !unfit(p, surface, s))
  const on = (side: DryPlace['side']) => used.filter((p) => p.side === side).length
  const [port, starboard] = [on('port'), on('starboard')]
  const reasons: Reason[] = []
  if (used.length < s.least) {
    const unknown = leftOut.filter(({ why }) => why === 'height-unknown').length
    if (unknown > 0) reasons.push({ why: 'height-unknown', have: unknown, need: 0 })
    if (used.length + unknown < s.least) reasons.push({ why: 'too-few', have: used.length + unknown, need: s.least })
  }
  if (s.bothSides && used.length > 0 && (port === 0 || starboard === 0))
    reasons.push({ why: 'one-side', have: Math.min(port, starboard), need: 1 })
  const values = used.map((p) => p.value)
  const level = levelOf(values, s, reasons)
  const beside = besideOf(under, level, s, reasons)
  return { ...level, ...beside, surface, port, starboard, count: used.length, reasons, leftOut }
}

function unfit(p: DryPlace, surface: string, s: Settings): LeftOut['why'] | null {
  if (p.above === null) return 'height-unknown'
  if (p.above < s.clear) return 'too-low'
  return p.surface === surface ? null : 'other-surface'
}

/** The surface most places have; of several, the first in the alphabet. */
function commonest(dry: readonly DryPlace[]): string {
  const seen = new Map<string, number>()
  for (const { surface } of dry) seen.set(surface, (seen.get(surface) ?? 0) + 1)
  const order = [...seen].sort(([a, n], [b, m]) => m - n || (a < b ? -1 : 1))
  return order[0]?.[0] ?? ''
}

type Level = Pick<Baseline, 'median' | 'scatter' | 'floored' | 'lower' | 'upper' | 'covers'>

function levelOf(values: readonly Value[], s: Settings, reasons: Reason[]): Level {
  const open = { lower: Number.NEGATIVE_INFINITY, upper: Number.POSITIVE_INFINITY, covers: 0, floored: false }
  if (values.length === 0) return { median: null, scatter: null, ...open }
  const median = medianOf(values)
  const limited = () =>
    reasons.push({ why: 'at-scale-end', have: values.filter((v) => v.limit !== '').length, need: 0 })
  if (!isExact(median)) {
    limited()
    return { median, scatter: null, ...open }
  }
  const spread = scaleOfMAD * madOf(values, median).high
  if (!Number.isFinite(spread)) limited()
  const floored = spread < s.step / 2
  return {
    median,
    scatter: Number.isFinite(spread) ? Math.max(spread, s.step / 2) : null,
    floored,
    ...interval(values, s.level),
  }
}

/** The ranks of the ends of the values; open ends sort to the outside. */
function interval(values: readonly Value[], level: number): Pick<Baseline, 'lower' | 'upper' | 'covers'> {
  const { rank, covers } = medianRank(values.length, level)
  if (rank === 0) return { lower: Number.NEGATIVE_INFINITY, upper: Number.POSITIVE_INFINITY, covers: 0 }
  const at = (end: 'low' | 'high') => values.map((v) => spanOf(v)[end]).sort((a, b) => (a < b ? -1 : a > b ? 1 : 0))
  return { lower: (at('low')[rank - 1] ?? 0) / 40, upper: (at('high')[values.length - rank] ?? 0) / 40, covers }
}

function besideOf(
  under: readonly Value[],
  { median, scatter }: Level,
  s: Settings,
  reasons: Reason[],
): Pick<Baseline, 'underbody' | 'contrast'> {
  if (under.length === 0) {
    reasons.push({ why: 'no-underbody', have: 0, need: 1 })
    return { underbody: null, contrast: null }
  }
  const underbody = medianOf(under)
  if (!median || !isExact(median)) return { underbody, contrast: null }
  const contrast = minus(underbody, median)
  const least = contrast.low / 40
  if (!(least > 0)) reasons.push({ why: 'not-below', have: least, need: 0 })
  else if ((scatter ?? Number.POSITIVE_INFINITY) > s.share * least)
    reasons.push({ why: 'too-spread', have: scatter ?? Number.POSITIVE_INFINITY, need: s.share * least })
  return { underbody, contrast }
}

export const isValid = (b: Baseline): boolean => b.reasons.length === 0 && b.count > 0

/** A reading less the dry level of its own pass; never a ratio and never a percentage. */
export interface Contrast {
  /** Fortieths; open where the reading met the scale's end. */
  span: Span
  /** The same in units of the dry scatter. */
  times: [low: number, high: number]
}

/** Sets a reading of the same pass against its dry level; null where the baseline is void. */
export function contrastOf(v: Value, dry: { median: Fortieth; scatter: number } | Baseline): Contrast | null {
  const level = 'reasons' in dry ? known(dry) : dry
  if (!level) return null
  const span = minus(spanOf(v), { low: level.median, high: level.median })
  return { span, times: [span.low / 40 / level.scatter, span.high / 40 / level.scatter] }
}

function known(b: Baseline): { median: Fortieth; scatter: number } | null {
  return isValid(b) && b.median && b.scatter !== null ? { median: b.median.low, scatter: b.scatter } : null
}

/** The reason in words, and what would mend it: the sentences of Go. */
export function reasonInWords(r: Reason): string {
  switch (r.why) {
    case 'too-few':
      return `${r.have} usable dry places, ${r.need} needed: read more topsides places clear of the boot-top.`
    case 'height-unknown':
      return `How far up the boot-top reaches was not written down, so none of ${r.have} dry places can be judged clear of it: write it in the vessel's brief.`
    case 'one-side':
      return 'Dry places on one side only: read some on the other side too.'
    case 'at-scale-end':
      return `${r.have} readings at dry places are at the end of the scale, so their middle or scatter is not known: use a scale that reaches further.`
    case 'too-spread':
      return `The dry places scatter by ${two(r.have)} units, more than the ${two(r.need)} that the underbody's contrast allows.`
    case 'not-below':
      return 'The dry places do not read below the underbody: nothing can be set against them.'
    default:
      return 'Nothing of the underbody was read in this pass.'
  }
}

const two = (x: number) => String(Number(x.toPrecision(2)))
