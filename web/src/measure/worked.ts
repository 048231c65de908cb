import { readFileSync } from 'node:fs'

/** Reads one file of testdata/measure, the worked figures that Go is held to as well; for tests alone. */
export function worked<T>(file: string): T {
  return JSON.parse(readFileSync(new URL(`../../../testdata/measure/${file}`, import.meta.url), 'utf8'))
}

/** A number as it was printed stands for anything within half of its last digit. */
export function printed(got: number, want: number): boolean {
  const digits = String(want).split('.')[1]?.length ?? 0
  return Math.abs(got - want) <= 0.5001 * 10 ** -digits
}
