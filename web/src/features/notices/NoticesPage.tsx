import { Link } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { useSearch } from '../../app/useSearch'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import {
  type NoticeRowFragment,
  NoticeRowFragmentDoc,
  NoticesPageDocument,
  SeeNoticesDocument,
  SetDigestDocument,
} from '../../graphql/gen/graphql'
import { dayIn, longDay, timeIn } from '../../model/dates'
import { newId } from '../../model/id'
import { optional } from '../../model/search'
import { ChoiceField } from '../../ui/Choice'
import { Invented } from '../../ui/Invented'
import { Empty } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import s from './notices.module.css'

const choices = { after: optional() }

/** What others changed that the reader should hear of, by day; what was not marked stands in front. */
export default function NoticesPage() {
  const [{ after }, choose] = useSearch(choices)
  const zone = useViewer()?.practice.timeZone ?? 'UTC'
  const [{ data, error }, again] = useQuery({ query: NoticesPageDocument, variables: { after } })
  const [{ fetching, error: kept }, see] = useMutation(SeeNoticesDocument)
  const rows = (data?.notices.edges ?? []).map(({ node }) => read(NoticeRowFragmentDoc, node))
  const fresh = rows.filter(({ seenAt }) => !seenAt)
  const mark = (ids: string[]) => see({ input: { mutation: newId('mut'), notices: ids } })
  return (
    <>
      <Running title="Notices">
        {data && (data.notices.unseen ? `${data.notices.unseen} new for you` : 'nothing new')}
      </Running>
      <main id="main" className="page-body">
        <Answer data={data} error={error} again={again} lines={10}>
          {(data) => (
            <div className={s.two}>
              <div>
                {kept && <Failed error={kept} />}
                {rows.length === 0 ? (
                  <Empty title="Nothing new">
                    <p>
                      Visits booked or moved for you, leave given by owners, offers accepted, payments and fetched
                      reports are told here. Nobody is told of their own acts.
                    </p>
                  </Empty>
                ) : (
                  <>
                    {fresh.length > 0 && (
                      <p style={{ paddingTop: 12 }}>
                        <button
                          type="button"
                          className="act"
                          disabled={fetching}
                          onClick={() => mark(fresh.map(({ id }) => id))}
                        >
                          Mark these as read
                        </button>
                      </p>
                    )}
                    {byDay(rows, zone).map(([day, list]) => (
                      <section key={day}>
                        <h2>{longDay(day)}</h2>
                        <ol className={s.list}>
                          {list.map((n) => (
                            <li key={n.id} data-new={!n.seenAt || undefined}>
                              <span className={s.when}>{timeIn(n.at, zone)}</span>
                              <span>
                                {!n.seenAt && <span className="sr">New: </span>}
                                <Told n={n} />
                                {n.by && <span className="small note"> {n.by}</span>}
                              </span>
                            </li>
                          ))}
                        </ol>
                      </section>
                    ))}
                    <div className="buttons" style={{ marginTop: 16 }}>
                      {data.notices.pageInfo.hasNextPage && (
                        <button
                          type="button"
                          className="plain"
                          onClick={() => choose({ after: data.notices.pageInfo.endCursor ?? null })}
                        >
                          Earlier ones
                        </button>
                      )}
                    </div>
                  </>
                )}
                <Invented show={data.viewer.practice.invented} />
              </div>
              <aside>
                <Digest digest={data.notices.digest} />
              </aside>
            </div>
          )}
        </Answer>
      </main>
    </>
  )
}

/** The sentence, leading to what it speaks of. */
function Told({ n }: { n: NoticeRowFragment }) {
  const to = n.visit
    ? `/visits/${n.visit}`
    : n.job
      ? `/jobs/${n.job}`
      : n.engagement
        ? `/engagements/${n.engagement}`
        : null
  return to ? <Link to={to}>{n.text}</Link> : <span>{n.text}</span>
}

function byDay(rows: NoticeRowFragment[], zone: string): [string, NoticeRowFragment[]][] {
  const days = new Map<string, NoticeRowFragment[]>()
  for (const n of rows) {
    const day = dayIn(n.at, zone)
    days.set(day, [...(days.get(day) ?? []), n])
  }
  return [...days]
}

function Digest({ digest }: { digest: string }) {
  const [{ error }, set] = useMutation(SetDigestDocument)
  return (
    <section>
      <h2>By mail</h2>
      {error && <Failed error={error} />}
      <ChoiceField
        label="What is new, in one mail"
        value={digest}
        onChange={(next) => set({ input: { mutation: newId('mut'), digest: next } })}
        options={[
          { value: 'none', name: 'Never' },
          { value: 'daily', name: 'Daily' },
          { value: 'weekly', name: 'Mondays' },
        ]}
        help="At seven in the morning, where something is new. Each mail holds an address that ends them."
      />
    </section>
  )
}
