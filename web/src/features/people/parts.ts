/** What somebody is to a boat, as it was written down: with a job, or for good. */
export interface Part {
  id: string
  role: string
  vessel: { id: string; name: string }
  job?: { id: string; number: string } | null
  from?: string | null
  to?: string | null
}

/** One part of somebody in one boat, from the first day it was written down, with the jobs it was written down for. */
export interface PartOverTime extends Omit<Part, 'job'> {
  jobs: { id: string; number: string }[]
}

/** The same part in the same boat stands once, however many jobs it came with; a part that ended stands by itself. */
export function overTime(parts: readonly Part[]): PartOverTime[] {
  const rows = new Map<string, PartOverTime>()
  for (const { job, ...part } of parts) {
    const key = part.to ? part.id : `${part.role}/${part.vessel.id}`
    const row = rows.get(key) ?? { ...part, jobs: [] }
    if (part.from && (!row.from || part.from < row.from)) row.from = part.from
    if (job && !row.jobs.some(({ id }) => id === job.id)) row.jobs.push(job)
    rows.set(key, row)
  }
  return [...rows.values()]
}
