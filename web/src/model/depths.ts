/** How places read deep- and shallow-sensing went between two visits, as the service names it. */

export interface DepthStep {
  from?: string | null
  to?: string | null
  patterns: readonly (string | null)[]
  /** Of the hull at large. */
  large?: string | null
  deep: readonly (number | null)[]
  shallow: readonly (number | null)[]
  says: { text: string }
}

/** The patterns in the order in which a table lists them, each as its column is headed. */
export const patterns = [
  ['normal-drying', 'ordinary drying'],
  ['surface-water', 'surface water'],
  ['something-behind', 'deep stays'],
  ['stalled', 'stalled'],
  ['nothing-shown', 'no pattern'],
  ['cannot-tell', 'cannot tell'],
] as const

/** How many places went each way, in the order of `patterns`. */
export function countsOf(step: DepthStep): number[] {
  return patterns.map(([code]) => step.patterns.filter((pattern) => pattern === code).length)
}
