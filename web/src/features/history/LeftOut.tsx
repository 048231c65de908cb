import { plural } from '../../model/words'
import type { Pass } from './ResurveyView'

/** What of earlier jobs may not be told to the client of the pass held: how much, and why. The surveyor sees it all the same. */
export function LeftOut({ count, passes, now }: { count: number; passes: readonly Pass[]; now: Pass }) {
  if (count === 0) return null
  const jobs = [...new Set(passes.filter(untold(now)).map(({ jobNumber }) => jobNumber))]
  return (
    <section aria-labelledby="left-out">
      <h2 id="left-out">Not for this client</h2>
      <p className="measure">
        {plural(count, 'pass', 'passes')}
        {jobs.length > 0 && ` of ${jobs.length === 1 ? 'job' : 'jobs'} ${jobs.join(', ')}`} may not be told to the
        client of job {now.jobNumber}: by their terms what was read belongs to their own client. You see it here;
        nothing of it enters a report, a brief or a letter for this one.
      </p>
    </section>
  )
}

/** Whether the later of two passes' client may not be told of the other, as the service answers it. */
const untold = (now: Pass) => (pass: Pass) =>
  pass.id !== now.id && pass.job !== now.job && pass.cite === 'this client only'
