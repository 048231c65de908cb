/** An argument that cannot be used, named as in the function's comment: the twin of measure.ArgumentError. */
export class Unusable extends RangeError {
  constructor(
    readonly argument: string,
    readonly why: string,
  ) {
    super(`${argument} ${why}`)
  }
}

/** Refuses NaN, the infinities and what lies outside. */
export function between(argument: string, x: number, low: number, high: number, unit = ''): void {
  if (!Number.isFinite(x)) throw new Unusable(argument, 'must be finite')
  if (x < low || x > high) throw new Unusable(argument, `must lie between ${low} and ${high}${unit && ` ${unit}`}`)
}

/** Refuses a coverage or chance that does not lie strictly between 0 and 1. */
export function share(argument: string, x: number): void {
  if (!(x > 0 && x < 1)) throw new Unusable(argument, 'must lie between 0 and 1')
}

/** A figure with the ends of what is known of it; doubts are codes of the notes that Go gives. */
export interface Band {
  value: number
  lower: number
  upper: number
  notes: string[]
}
