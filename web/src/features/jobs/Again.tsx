import { Link } from 'react-router'
import type { JobBodyFragment } from '../../graphql/gen/graphql'
import { windowWords } from '../../model/windows'
import { capital } from '../../model/words'
import { Grade } from '../../ui/Grade'
import s from './jobs.module.css'

type Look = JobBodyFragment['reinspections'][number]

/** When she should be seen again by this job’s report, and which look this job answers. */
export function Again({ job }: { job: JobBodyFragment }) {
  return (
    <section id="again">
      <h2>To be seen again</h2>
      {job.reinspections.length === 0 ? (
        <p className="note ruled">
          Nothing yet: when the report is issued, each recommendation and the state of the hull propose a window.{' '}
          <Link to="/reinspections">All that is due</Link>
        </p>
      ) : (
        <ul className={s.again}>
          {job.reinspections.map((r) => (
            <li key={r.id}>
              <b>{capital(windowWords(r))}</b>
              <span>
                {r.recommended && (
                  <>
                    {r.grade && <Grade grade={r.grade} />} {r.recommended}.{' '}
                  </>
                )}
                {capital(r.reason)} <span className="small note">{r.tag}</span>
              </span>
              <span className="small">{standing(r, job.id)}</span>
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}

function standing(r: Look, job: string): string {
  if (r.answeredJob === job) return 'answered by this job'
  if (r.bookedJob === job) return 'booked in this job'
  return r.state
}
