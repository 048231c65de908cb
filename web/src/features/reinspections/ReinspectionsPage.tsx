import { useState } from 'react'
import { Link } from 'react-router'
import { useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Answer } from '../../app/Page'
import { useSearch } from '../../app/useSearch'
import { useViewer } from '../../app/useViewer'
import { Silhouette } from '../../figure/Silhouette'
import { read } from '../../graphql/gen'
import {
  type ReinspectionRowFragment,
  ReinspectionRowFragmentDoc,
  ReinspectionsPageDocument,
} from '../../graphql/gen/graphql'
import { dayIn, shortDay } from '../../model/dates'
import { oneOf, optional } from '../../model/search'
import { windowWords } from '../../model/windows'
import { capital, plural } from '../../model/words'
import { Choice } from '../../ui/Choice'
import { Grade } from '../../ui/Grade'
import { Invented } from '../../ui/Invented'
import { NextFifty } from '../../ui/NextFifty'
import { Empty } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Table } from '../../ui/Table'
import { AddLook } from './AddLook'
import { Move } from './Move'
import { Recall } from './Recall'
import s from './reinspections.module.css'

const shows = ['due', 'later', 'waiting', 'booked', 'snoozed', 'declined', 'answered'] as const
type Show = (typeof shows)[number]
const names: Record<Show, string> = {
  due: 'Due',
  later: 'Later',
  waiting: 'Waiting',
  booked: 'Booked',
  snoozed: 'Put off',
  declined: 'Declined',
  answered: 'Seen',
}
const nothing: Record<Show, string> = {
  due: 'No window opens within sixty days, and none has closed unseen.',
  later: 'No window opens later than that.',
  waiting: 'Nothing waits for a launch or for access.',
  booked: 'None is booked. Book one from the list of those due, in a job of her vessel.',
  snoozed: 'None is put off.',
  declined: 'None was declined.',
  answered: 'No survey has answered one yet.',
}
const choices = { show: oneOf(shows, 'due'), after: optional() }

/** Vessels that should be seen again: what is due, why, and what was said about it. */
export default function ReinspectionsPage() {
  const [{ show, after }, choose] = useSearch(choices)
  const viewer = useViewer()
  const [{ data, error }, again] = useQuery({ query: ReinspectionsPageDocument, variables: { show, after } })
  const [moving, setMoving] = useState<ReinspectionRowFragment | null>(null)
  const [recalled, setRecalled] = useState<ReinspectionRowFragment | null>(null)
  const today = dayIn(Date.now(), viewer?.practice.timeZone ?? 'UTC')
  const counts = data?.reinspections.counts
  const fresh = () => again({ requestPolicy: 'network-only' })
  return (
    <>
      <Running
        title="To be seen again"
        page="Reinspections"
        tabsLabel="Reinspections"
        tabs={[
          { to: '/reinspections', name: 'List' },
          { to: '/reinspections/rules', name: 'Rules' },
        ]}
      >
        {counts
          ? counts.overdue
            ? `${counts.due} due, ${counts.overdue} of them overdue`
            : `${counts.due} due, none overdue`
          : 'from what was recommended, and when'}
      </Running>
      <main id="main" className="page-body">
        <div className={s.counts}>
          <Choice
            label="Which reinspections"
            value={show}
            onChange={(next) => choose({ show: next, after: null })}
            options={shows.map((value) => ({
              value,
              name: counts ? `${names[value]} ${counts[value]}` : names[value],
            }))}
          />
          <Allowed to="book">
            <AddLook onDone={fresh} />
          </Allowed>
        </div>
        <Answer data={data} error={error} again={again} lines={10}>
          {(data) =>
            data.reinspections.edges.length === 0 ? (
              <Empty
                title={`Nothing ${names[show].toLowerCase()}`}
                ways={
                  <Link className="plain" to="/reinspections/rules">
                    See the rules
                  </Link>
                }
              >
                <p>{nothing[show]} Windows come from the recommendations of issued reports, by the practice’s rules.</p>
              </Empty>
            ) : (
              <Table
                caption={`Reinspections: ${names[show]}`}
                hideCaption
                className={`folds ${s.list}`}
                columns={[
                  { head: '', cell: (r) => (r.vessel.figure ? <Silhouette spec={r.vessel.figure} /> : null) },
                  {
                    head: 'vessel',
                    names: true,
                    cell: (r) => (
                      <>
                        <Link className={s.name} to={`/vessels/${r.vessel.id}`}>
                          {r.vessel.name}
                        </Link>
                        <span className="small note">{r.vessel.kind}</span>
                      </>
                    ),
                  },
                  { head: 'window', cell: (r) => <Window r={r} today={today} /> },
                  { head: 'why', cell: (r) => <Why r={r} /> },
                  { head: 'stands', cell: (r) => <Stands r={r} /> },
                  {
                    head: '',
                    cell: (r) =>
                      r.state === 'answered' ? null : (
                        <Allowed to="book">
                          <span className={s.ways}>
                            <button type="button" className="plain" onClick={() => setMoving(r)}>
                              Move on<span className="sr"> {r.vessel.name}</span>
                            </button>
                            {r.state === 'due' && !r.waitsFor && (
                              <button type="button" className="plain" onClick={() => setRecalled(r)}>
                                Recall<span className="sr"> {r.vessel.name}</span>
                              </button>
                            )}
                          </span>
                        </Allowed>
                      ),
                  },
                ]}
                rows={data.reinspections.edges.map(({ node }) => read(ReinspectionRowFragmentDoc, node))}
                id={(r) => r.id}
              />
            )
          }
        </Answer>
        <NextFifty page={data?.reinspections.pageInfo} onNext={(after) => choose({ after }, { push: true })} />
        <Invented show={viewer?.practice.invented} />
      </main>
      {moving && <Move key={moving.id} r={moving} onClose={() => setMoving(null)} onDone={fresh} />}
      {recalled && <Recall key={recalled.id} r={recalled} onClose={() => setRecalled(null)} onDone={fresh} />}
    </>
  )
}

function Window({ r, today }: { r: ReinspectionRowFragment; today: string }) {
  const late = r.state === 'due' && !r.waitsFor && r.dueTo < today
  const open = r.state === 'due' && !r.waitsFor && r.dueFrom <= today && !late
  return (
    <>
      <b>{capital(windowWords(r))}</b>
      {late && <span className={s.late}> overdue</span>}
      {open && <span> · open now</span>}
      {r.daysAshore != null && (
        <span className="small note" style={{ display: 'block' }}>
          last read after {plural(r.daysAshore, 'day')} ashore{r.instrument && `, ${r.instrument}`}
        </span>
      )}
    </>
  )
}

function Why({ r }: { r: ReinspectionRowFragment }) {
  return (
    <div className={`measure ${s.why}`}>
      {r.recommended && (
        <p>
          {r.grade && <Grade grade={r.grade} />} {r.recommended}
        </p>
      )}
      <p>{capital(r.reason)}</p>
      {r.wants.map((want) => (
        <p key={want} className="small">
          {want}
        </p>
      ))}
      <p className="small note">{r.tag}</p>
    </div>
  )
}

function Stands({ r }: { r: ReinspectionRowFragment }) {
  const by = [r.movedBy, r.movedAt && shortDay(r.movedAt)].filter(Boolean).join(', ')
  const said: Record<string, string> = {
    due: 'due',
    booked: `booked in job ${r.bookedNumber}`,
    snoozed: r.snoozedUntil ? `put off until ${shortDay(r.snoozedUntil)}` : 'put off',
    declined: 'declined',
    answered: r.answeredNumber ? `seen in job ${r.answeredNumber}` : 'seen',
  }
  return (
    <>
      {r.bookedJob && r.state === 'booked' ? <Link to={`/jobs/${r.bookedJob}`}>{said.booked}</Link> : said[r.state]}
      {r.stateReason && <span style={{ display: 'block' }}>{r.stateReason}</span>}
      {r.state !== 'due' && by && (
        <span className="small note" style={{ display: 'block' }}>
          {by}
        </span>
      )}
      {r.recalledAt && (
        <span className="small note" style={{ display: 'block' }}>
          recalled {shortDay(r.recalledAt)}, {r.recalledTo}
        </span>
      )}
    </>
  )
}
