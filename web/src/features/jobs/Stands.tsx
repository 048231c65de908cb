import { Link } from 'react-router'
import type { JobBodyFragment } from '../../graphql/gen/graphql'
import s from './jobs.module.css'

/** Where something that stands in the way is solved: on this page, or on one of its own. */
function solvedAt(code: string, job: JobBodyFragment): string {
  switch (code) {
    case 'client':
    case 'lead':
      return '#told'
    case 'terms':
      return job.came ? `/engagements/${job.came.id}#offer` : '#came'
    case 'permission':
    case 'permission-refused':
      return '#leave'
    case 'without-leave':
      return '#without-leave'
    case 'report':
      return '#reports'
    case 'draft':
    case 'second-look': {
      const report = job.reports.find(({ state }) => state === 'draft' || state === 'in review')
      return report ? `/reports/${report.id}` : '#reports'
    }
    case 'authorised':
      return '#papers'
    default:
      return '#visits'
  }
}

/** What stands between the job and its report, in the order in which it is needed, each with where it is solved. */
export function Stands({ job }: { job: JobBodyFragment }) {
  if (job.stands.length === 0)
    return (
      <p className="lead">
        {job.stage === 'issued' || job.stage === 'closed'
          ? 'Nothing stands open: the report is issued.'
          : job.stage === 'cancelled'
            ? 'The job was called off.'
            : 'Nothing stands between it and its next step.'}
      </p>
    )
  return (
    <ol className={s.stands}>
      {job.stands.map(({ code, text, stops }) => {
        const to = solvedAt(code, job)
        return (
          <li key={code + text}>
            {to.startsWith('#') ? <a href={to}>{text}</a> : <Link to={to}>{text}</Link>}{' '}
            <span className="small note">stops the {stops}</span>
          </li>
        )
      })}
    </ol>
  )
}
