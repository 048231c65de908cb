import { plural } from '../../model/words'
import type { Pass } from './ResurveyView'

/** How much of earlier jobs may not be told to the client of the pass held, and why. The surveyor sees it all the same. */
export function LeftOut({ passes, now }: { passes: readonly Pass[]; now: Pass }) {
  const left = passes.filter(({ tellable }) => !tellable)
  if (left.length === 0) return null
  const jobs = [...new Set(left.map(({ jobNumber }) => jobNumber))]
  return (
    <p>
      <b>Not for the client of job {now.jobNumber}:</b> {plural(left.length, 'pass', 'passes')} of{' '}
      {jobs.length === 1 ? 'job' : 'jobs'} {jobs.join(', ')}. By the terms what was read there belongs to another
      client. You see it here; nothing of it enters a report, a brief or a letter for this one.
    </p>
  )
}

/** Of the sentences beside a pass that may not be told: for whom they are. */
export function forYou(now: Pass, then: Pass | null): string {
  const untold = [now, then].find((pass) => pass && !pass.tellable)
  return untold
    ? `What is said of a change rests on job ${untold.jobNumber}, which the client of this one may not be told of: it is for you, and stays out of the report.`
    : ''
}
