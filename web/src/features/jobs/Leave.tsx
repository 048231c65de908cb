import { Allowed } from '../../app/Allowed'
import { Mark } from '../../figure/marks'
import type { JobBodyFragment } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { capital, plural } from '../../model/words'
import { Answered, AskPermission } from './AskPermission'
import s from './jobs.module.css'
import { Unasked } from './Unasked'

/** Permissions as dated records with a name. */
export function Leave({ job }: { job: JobBodyFragment }) {
  return (
    <section id="leave">
      <h2>Leave</h2>
      {job.permissions.length === 0 ? (
        <p className="note ruled">
          None asked. The owner’s leave to board, lift and scrape is asked of the owner: a buyer cannot give it.
        </p>
      ) : (
        <ul className={s.leave}>
          {job.permissions.map((p) => (
            <li key={p.id}>
              <Mark kind={p.givenOn ? 'received' : p.refusedOn ? 'void' : 'sent'} />
              <span>
                <b>{capital(p.what)}</b>
                {p.windows != null && `, ${plural(p.windows, 'window')} in all`}
                {p.extent && `, ${p.extent}`}
                <span className="small note">
                  {p.makesGood && ` · made good by ${p.makesGood}`}
                  {p.note && ` · ${p.note}`}
                </span>
              </span>
              <span className="small">
                {p.givenOn
                  ? `given ${shortDay(p.givenOn)}${p.givenBy ? ` by ${p.givenBy}` : ''}`
                  : p.refusedOn
                    ? `refused ${shortDay(p.refusedOn)}${p.givenBy ? ` by ${p.givenBy}` : ''}`
                    : `asked ${p.askedOn ? shortDay(p.askedOn) : ''}, not answered`}
              </span>
              {!p.givenOn && !p.refusedOn && (
                <Allowed to="book">
                  <Answered job={job} permission={p} />
                </Allowed>
              )}
            </li>
          ))}
        </ul>
      )}
      <Unasked job={job} />
      <Allowed to="book">
        <div style={{ marginTop: 12 }}>
          <AskPermission job={job} />
        </div>
      </Allowed>
    </section>
  )
}
