import { Link, useParams } from 'react-router'
import { useQuery } from 'urql'
import { NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { ReportHistoryDocument, type ReportHistoryQuery } from '../../graphql/gen/graphql'
import { clock, longDay } from '../../model/dates'
import { plural } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { Running } from '../../ui/Running'
import { Words } from './Changes'
import h from './history.module.css'

type History = NonNullable<ReportHistoryQuery['reportHistory']>
type Event = History['events'][number]

/** Everything that happened to a report, in order: to read, and to print. */
export default function HistoryPage() {
  const { id = '' } = useParams()
  const [{ data, error }, again] = useQuery({
    query: ReportHistoryDocument,
    variables: { id },
    requestPolicy: 'cache-and-network',
  })
  if (data && !data.reportHistory) return <NotFound />
  const history = data?.reportHistory
  return (
    <>
      <Running
        title={history?.vesselName ?? 'Report'}
        page={history ? `${history.vesselName}, history of ${named(history)}` : 'History'}
        tabsLabel="This report"
        tabs={
          history
            ? [
                { to: `/reports/${history.id}`, name: history.number ? `Report ${history.number}` : 'Draft' },
                { to: `/reports/${history.id}/history`, name: 'History' },
                { to: `/jobs/${history.job}`, name: `Job ${history.jobNumber}` },
                { to: `/vessels/${history.vessel}`, name: 'Resurvey' },
              ]
            : []
        }
      >
        {history && (
          <>
            {history.title}
            {history.clientName && `, for ${history.clientName}`}
          </>
        )}
      </Running>
      <main id="main" className={`page-body ${h.page}`}>
        <Answer data={history} error={error} again={again} lines={12}>
          {(history) => (
            <>
              <h2>Full history of {named(history)}</h2>
              <p className="note measure">
                {plural(history.events.length, 'entry', 'entries')}, the oldest first.
                {history.older && ' Openings before those listed are not shown.'} What was issued stays as it was; the
                fingerprints tell whether a file is the one that was issued.
              </p>
              <ol className={h.events}>
                {history.events.map((event, k) => (
                  <Entry key={k} event={event} fresh={dayOf(history.events[k - 1]) !== dayOf(event)} />
                ))}
              </ol>
              <div className="buttons">
                <button type="button" className="act" onClick={() => print()}>
                  Print it
                </button>
              </div>
            </>
          )}
        </Answer>
        <Invented show={data?.viewer.practice.invented} />
      </main>
    </>
  )
}

const named = ({ number }: History) => (number ? `report ${number}` : 'this draft')
const dayOf = (event?: Event) => event && longDay(event.at)

function Entry({ event, fresh }: { event: Event; fresh: boolean }) {
  return (
    <li className={fresh ? h.day : undefined}>
      <p className={h.when}>
        {fresh && <span className={h.date}>{longDay(event.at)}</span>}
        <span className="note">{clock(event.at)}</span>
      </p>
      <div>
        <p>
          <b>{event.report ? <Link to={`/reports/${event.report}`}>{event.title}</Link> : event.title}</b>
          {event.by && `, ${event.by}`}
        </p>
        {event.about && <p className={`note ${h.about}`}>{event.about}</p>}
        {event.text && <p className={h.text}>{event.text}</p>}
        {event.hashes.map(({ name, sha256 }) => (
          <p key={name} className={`small ${h.hash}`}>
            <span>{name}, SHA-256</span> <code>{sha256}</code>
          </p>
        ))}
        {event.changes.length > 0 && (
          <details className={h.changes} open={event.changes.length <= 3}>
            <summary>{plural(event.changes.length, 'part')} changed in words since the draft before</summary>
            <Words changes={event.changes} was="before" is={event.kind === 'issued' ? 'as issued' : 'as sent'} />
          </details>
        )}
      </div>
    </li>
  )
}
