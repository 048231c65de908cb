import type { CombinedError } from 'urql'

/** A refusal beside the field that it names; `rest` where it names none of those that the form has. */
export function faults(error: CombinedError | undefined, ...fields: string[]) {
  const fault = error?.graphQLErrors[0]
  // The service names one slot of a column as places[3].
  const named = String(fault?.extensions?.field ?? '').replace(/\[.*$/, '')
  const here = fields.includes(named)
  return {
    at: (field: string) => (here && field === named ? fault?.message : undefined),
    rest: here ? undefined : error,
  }
}
