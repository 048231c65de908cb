/**
 * The words that the service takes where it takes only these: the same lists as the constraints in
 * migrations, held to them by a test.
 */
export const jobKinds = [
  'pre-purchase',
  'insurance',
  'limited moisture',
  'damage',
  'repair supervision',
  'completion',
  'warranty',
  'valuation',
  'tonnage',
  'code',
  'expert witness',
  'repeat kit',
] as const
/** The kinds that a client can be offered; the others are kept for their papers, or measure ourselves. */
export const askable = jobKinds.filter((kind) => !['tonnage', 'code', 'repeat kit'].includes(kind))
export const jobStages = [
  'enquiry',
  'quoted',
  'booked',
  'visiting',
  'writing',
  'in review',
  'issued',
  'closed',
  'cancelled',
] as const
export const permissions = [
  'board and survey',
  'lift',
  'scrape',
  'open blisters',
  'drill or core',
  'mark the hull',
  'lift soles',
  'photograph',
  'share the report',
  'approach the previous surveyor',
] as const
export const visitKinds = ['wet look', 'meter visit', 'repeat readings', 'inside', 'completion', 'other'] as const
export const surfaces = ['', 'bare gelcoat', 'antifouling', 'epoxy', 'scraped', 'laminate', 'paint'] as const
export const rains = ['', 'none', 'light', 'heavy'] as const
export const grades = ['stop', 'afloat', 'ashore', 'planned', 'watch', 'further', 'record'] as const
/** What findings are usually called; a surveyor may write another. */
export const findingKinds = [
  'blisters',
  'weep',
  'crack pattern',
  'dull note',
  'wet fitting',
  'bond line',
  'soft patch',
  'old repair',
  'corrosion',
  'hardness',
  'thickness',
  'core sample',
] as const
/** What a recommendation may be about, as far as the interval to the next look depends on it. */
export const abouts = [
  ['', 'its grade and date alone'],
  ['raised-uniform', 'readings raised all over'],
  ['few-blisters', 'a few blisters'],
  ['active-blisters', 'active blisters'],
  ['failing-treatment', 'a treatment that may be failing'],
  ['suspected-wet-core', 'a core suspected wet'],
  ['drying', 'drying ashore'],
] as const
export const sures = ['seen', 'indicated', 'suspected'] as const

/** How a surface is said of the part that has it: "the underbody, antifouled". */
export function surfaced(surface: string): string {
  return (
    { antifouling: 'antifouled', epoxy: 'over epoxy', scraped: 'scraped', laminate: 'bare laminate', paint: 'painted' }[
      surface
    ] ?? surface
  )
}

/** Electrical evidence alone carries Watch, Look further and For the record, nothing above. */
export const fromReadings = (grade: string) => grade === 'watch' || grade === 'further' || grade === 'record'
