import { type FormEvent, useState } from 'react'
import { Link, useNavigate } from 'react-router'
import { useQuery } from 'urql'
import { Answer } from '../../app/Page'
import { Silhouette } from '../../figure/Silhouette'
import { type FragmentType, read } from '../../graphql/gen'
import {
  JobInHandFragmentDoc,
  TodayPageDocument,
  type TodayPageQuery,
  VisitOfDayFragmentDoc,
} from '../../graphql/gen/graphql'
import { dayMonth, dayNumber, monthYear, shortDay, timeIn, weekdayLong } from '../../model/dates'
import { capital, metres, plural } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { Empty } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Begin } from './Begin'
import { Next } from './Next'
import s from './today.module.css'

/** What the day holds for whoever asks: the next visit, the vessels in hand, what waits for somebody. */
export default function TodayPage() {
  const [{ data, error }, again] = useQuery({ query: TodayPageDocument, variables: {} })
  return (
    <>
      <Running title={data ? weekdayLong(data.today.on) : 'Today'} page="Today" right={<Find />}>
        {data && (
          <>
            {data.viewer.member.name} · {data.viewer.practice.name}
          </>
        )}
      </Running>
      <main id="main" className={s.today}>
        <Answer data={data} error={error} again={again} lines={10}>
          {(data) => <Day data={data} />}
        </Answer>
      </main>
    </>
  )
}

function Find() {
  const navigate = useNavigate()
  const [search, setSearch] = useState('')
  return (
    <form
      role="search"
      onSubmit={(event: FormEvent) => {
        event.preventDefault()
        navigate(`/vessels?find=${encodeURIComponent(search)}`)
      }}
    >
      <label>
        <span className="sr">Find a vessel</span>
        <input
          className={s.find}
          type="search"
          placeholder="any name she ever had, hull no., report no."
          value={search}
          onChange={(event) => setSearch(event.target.value)}
        />
      </label>
    </form>
  )
}

function Day({ data }: { data: TodayPageQuery }) {
  const { today } = data
  const visits = read(VisitOfDayFragmentDoc, today.visits)
  const next = visits.find(({ state }) => state !== 'done' && state !== 'cancelled') ?? visits[0]
  return (
    <>
      <div>
        {next ? <Next visit={next} /> : today.inHand.length > 0 ? <Nothing /> : <Begin otherwise={<Nothing />} />}
        <InHand jobs={today.inHand} on={today.on} />
        <Invented show={data.viewer.practice.invented} />
      </div>
      <aside className={s.side}>
        {visits.length > 0 && (
          <section>
            <h2>The day</h2>
            <ol>
              {visits.map((visit) => (
                <li key={visit.id}>
                  {timeIn(visit.from, visit.timeZone)}
                  <span>
                    <Link to={`/visits/${visit.id}`}>
                      <b>{visit.vessel.name}</b>
                    </Link>
                    {[visit.kind, visit.yard].filter(Boolean).join(', ')}
                    {visit.lead && visit.lead.id !== data.viewer.member.id && ` · ${visit.lead.name}`}
                  </span>
                </li>
              ))}
            </ol>
          </section>
        )}
        <section>
          <h2>Waiting for someone</h2>
          {today.waiting.length === 0 ? (
            <p className="small note">Nothing waits: no permission, terms or second look is open.</p>
          ) : (
            <ol>
              {today.waiting.map(({ job, what, since }, i) => (
                <li key={i}>
                  {since ? plural(Math.max(0, dayNumber(today.on) - dayNumber(since)), 'day') : '–'}
                  <span>
                    <Link to={`/jobs/${job.id}`}>
                      <b>{job.vessel.name}</b>
                    </Link>
                    {what}
                  </span>
                </li>
              ))}
            </ol>
          )}
        </section>
        <section>
          <h2>To be seen again</h2>
          {today.due.length === 0 ? (
            <p className="small note">No reinspection falls due.</p>
          ) : (
            <ol>
              {today.due.map((due) => (
                <li key={due.id}>
                  {due.dueTo < today.on ? 'late' : monthYear(due.dueFrom).slice(0, 3)}
                  <span>
                    <Link to={`/vessels/${due.vessel.id}`}>
                      <b>{due.vessel.name}</b>
                    </Link>
                    {due.dueTo < today.on && <i>due {monthYear(due.dueTo)}</i>}
                    {due.reason}
                  </span>
                </li>
              ))}
            </ol>
          )}
          {!data.viewer.roles.every((role) => role === 'guest') && (
            <p className="small">
              <Link to="/reinspections">All that are to be seen again</Link>
            </p>
          )}
        </section>
      </aside>
    </>
  )
}

function Nothing() {
  return (
    <Empty
      title="No visit today"
      ways={
        <Link className="act" to="/jobs">
          Open the jobs
        </Link>
      }
    >
      <p>The next visit of the day stands here, with what to look at again. Visits are planned in a job.</p>
    </Empty>
  )
}

function InHand({ jobs, on }: { jobs: readonly FragmentType<typeof JobInHandFragmentDoc>[]; on: string }) {
  const list = read(JobInHandFragmentDoc, jobs)
  return (
    <section className={s.fleet}>
      <h2>Vessels in hand</h2>
      {list.length === 0 ? (
        <p className="note">No open job. A job brings its vessel here until its report is out.</p>
      ) : (
        <table>
          <caption className="sr">Vessels in hand, what stands between each and her report, and when it is due</caption>
          <thead>
            <tr>
              <td />
              <th scope="col">vessel</th>
              <th scope="col">where she is</th>
              <th scope="col">last pass</th>
              <th scope="col">stands between her and the report</th>
              <th scope="col">due</th>
            </tr>
          </thead>
          <tbody>
            {list.map((job) => (
              <tr key={job.id}>
                <td className={s.sil}>{job.vessel.figure ? <Silhouette spec={job.vessel.figure} /> : null}</td>
                <th scope="row">
                  <Link to={`/vessels/${job.vessel.id}`}>{job.vessel.name}</Link>
                  <span>
                    {[job.vessel.kind, job.vessel.loaMm && metres(job.vessel.loaMm)].filter(Boolean).join(', ')}
                  </span>
                </th>
                <td data-head="is">
                  {job.vessel.ashore
                    ? `${job.vessel.ashore.yard}, day ${job.vessel.ashore.days}`
                    : 'afloat, or not known'}
                </td>
                <td data-head="read" className="nowrap">
                  {job.vessel.lastPassAt ? monthYear(job.vessel.lastPassAt) : 'none'}
                </td>
                <td data-head="waits for">
                  <Link className={s.quietly} to={`/jobs/${job.id}`}>
                    {job.standsBetween ? capital(job.standsBetween) : `nothing noted; ${job.stage}`}
                  </Link>
                </td>
                <td className="nowrap" data-head="due">
                  <b>
                    {!job.dueOn
                      ? 'not yet'
                      : job.dueOn === on
                        ? 'today'
                        : job.dueOn < on
                          ? `late, ${shortDay(job.dueOn)}`
                          : dayMonth(job.dueOn)}
                  </b>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  )
}
