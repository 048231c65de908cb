import { Link } from 'react-router'
import type { JobBodyFragment } from '../../graphql/gen/graphql'
import { longDay } from '../../model/dates'
import { money } from '../../model/money'
import s from './jobs.module.css'

/** How the job came about: who asked and why, what stood against it, what was offered and accepted. */
export function Came({ job }: { job: JobBodyFragment }) {
  const e = job.came
  return (
    <section id="came">
      <h2>How it came about</h2>
      {!e ? (
        <p className="note ruled">It was opened without an enquiry: no quote and no terms are kept with it.</p>
      ) : (
        <ol className={s.story}>
          <li>
            <span>{longDay(e.askedOn)}</span>
            <span>
              <Link to={`/engagements/${e.id}`}>
                <b>{e.client?.name ?? e.askedBy} asked</b>
              </Link>
              {e.forWhom && `, for ${e.forWhom}`}
              {e.askedBecause && <span className="note">: {e.askedBecause}</span>}
            </span>
          </li>
          {e.conflictDecision && (
            <li>
              <span>{e.conflictAt && longDay(e.conflictAt)}</span>
              <span>
                <b>{e.conflictDecision === 'go on' ? 'Taken on' : 'Declined'}</b>
                {e.conflictBy && ` by ${e.conflictBy.name}`},{' '}
                {e.conflictFound.length
                  ? `with ${e.conflictFound.length === 1 ? 'one tie' : `${e.conflictFound.length} ties`} shown`
                  : 'with no tie known'}
                {e.conflictNote && <span className="note">: {e.conflictNote}</span>}
              </span>
            </li>
          )}
          {e.termsAcceptedAt ? (
            <li>
              <span>{longDay(e.termsAcceptedAt)}</span>
              <span>
                <b>Terms accepted</b> by {e.termsAcceptedBy}, “{e.termsVersion}”
                {e.netMinor != null && `, ${money(e.netMinor + (e.taxMinor ?? 0), e.currency)} with tax`}
                {e.earlyStart && '; asked to begin before the time to withdraw is over'}
              </span>
            </li>
          ) : (
            e.offered && (
              <li>
                <span>{longDay(e.offered.at)}</span>
                <span>
                  <b>Offer sent</b> to {e.offered.to}, holds until {longDay(e.offered.until)}; not yet accepted
                </span>
              </li>
            )
          )}
        </ol>
      )}
    </section>
  )
}
