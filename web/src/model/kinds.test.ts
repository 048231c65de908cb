import { readdirSync, readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { grades, jobKinds, jobStages, permissions, rains, sures, surfaces, visitKinds } from './kinds'

const folder = new URL('../../../migrations/', import.meta.url)
const sql = readdirSync(folder)
  .filter((name) => name.endsWith('.sql'))
  .sort()
  .map((name) => readFileSync(new URL(name, folder), 'utf8'))
  .join('\n')

/** The words of a constraint; of one that was made anew, the newest. */
function words(constraint: string): string[] {
  const found = [...sql.matchAll(new RegExp(`constraint ${constraint} check \\(\\w+ in \\(([^)]*)\\)`, 'g'))].at(-1)
  return [...(found?.[1] ?? '').matchAll(/'([^']*)'/g)].map(([, word]) => word ?? '')
}

it.each([
  ['jobs_kind_known', jobKinds],
  ['jobs_stage_known', jobStages],
  ['permissions_what_known', permissions],
  ['visits_kind_known', visitKinds],
  ['passes_surface_known', surfaces],
  ['passes_rain_known', rains],
  ['recommendations_grade_known', grades],
  ['recommendations_sure_known', sures],
])('offers the words that %s takes, and no others', (constraint, offered) => {
  expect([...offered]).toEqual(words(constraint))
})
