import { Link, useNavigate, useParams } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Allowed, useMay } from '../../app/Allowed'
import { Failed, NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { Silhouette } from '../../figure/Silhouette'
import { read } from '../../graphql/gen'
import {
  DraftReportDocument,
  type JobBodyFragment,
  JobBodyFragmentDoc,
  JobPageDocument,
  ReportBodyFragmentDoc,
  VisitOfDayFragmentDoc,
} from '../../graphql/gen/graphql'
import { longDay, shortDay, visitTime } from '../../model/dates'
import { newId } from '../../model/id'
import { jobStages } from '../../model/kinds'
import { ashoreWords, capital, plural } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { Running } from '../../ui/Running'
import { JobMoney } from '../money/JobMoney'
import { Holds } from '../privacy/Holds'
import { Making } from '../reports/Making'
import { Access, seenBy } from './Access'
import { Again } from './Again'
import { Came } from './Came'
import { EditJob } from './EditJob'
import s from './jobs.module.css'
import { Leave } from './Leave'
import { Needs } from './Needs'
import { Papers } from './Papers'
import { PlanVisit } from './PlanVisit'
import { Stands } from './Stands'

/** One survey of one vessel for one client, from the scope to the report. */
export default function JobPage() {
  const { id = '' } = useParams()
  const [{ data, error }, again] = useQuery({ query: JobPageDocument, variables: { id } })
  if (data && !data.job) return <NotFound />
  const job = data?.job ? read(JobBodyFragmentDoc, data.job) : null
  return (
    <>
      <Running
        title={job?.vessel.name ?? 'Job'}
        page={job ? `${job.vessel.name}, job ${job.number}` : 'Job'}
        tabsLabel="This job"
        tabs={
          job
            ? [
                { to: `/jobs/${job.id}`, name: `Job ${job.number}` },
                { to: `/jobs/${job.id}/survey`, name: 'Whole boat' },
                { to: `/jobs/${job.id}/drying`, name: 'Drying' },
                { to: `/vessels/${job.vessel.id}`, name: 'Resurvey' },
                { to: `/jobs/${job.id}/brief`, name: 'Brief' },
              ]
            : []
        }
      >
        {job && (
          <>
            {job.kind}
            {job.client && `, for ${job.client.name}`}
            {job.dueOn && `, due ${shortDay(job.dueOn)}`}
          </>
        )}
      </Running>
      <main id="main" className="two">
        <Answer data={job} error={error} again={again}>
          {(job) => (
            <>
              <div>
                <Top job={job} />
                <Came job={job} />
                <Leave job={job} />
                <Visits job={job} />
                <Found job={job} />
                <Reports job={job} />
                <Again job={job} />
              </div>
              <aside>
                <Told job={job} />
                <JobMoney job={job.id} />
                <Papers job={job} />
                <Holds of={{ job: job.id }} />
              </aside>
              <Invented show={data?.viewer.practice.invented} />
            </>
          )}
        </Answer>
      </main>
    </>
  )
}

const stages: readonly string[] = jobStages.filter((stage) => stage !== 'cancelled')

function Top({ job }: { job: JobBodyFragment }) {
  const at = stages.indexOf(job.stage)
  return (
    <section className={s.top}>
      {job.vessel.figure ? <Silhouette spec={job.vessel.figure} width={240} /> : null}
      <div>
        <p className={`${s.scope} measure`}>
          {job.scope || <span className="note">No scope written yet: what was asked and agreed stands here.</span>}
        </p>
        {at >= 0 ? (
          <ol className={s.stages} aria-label="Stages">
            {stages.map((stage, i) => (
              <li key={stage} data-done={i < at || undefined} aria-current={i === at ? 'step' : undefined}>
                {stage}
              </li>
            ))}
          </ol>
        ) : (
          <p className="note" style={{ marginTop: 8 }}>
            Stage: {job.stage}
          </p>
        )}
      </div>
      <div className={s.between}>
        <h2>What stands between her and the report</h2>
        <Stands job={job} />
        {job.standsBetween && <p className="small note">Noted by hand: {job.standsBetween}.</p>}
      </div>
    </section>
  )
}

function Visits({ job }: { job: JobBodyFragment }) {
  const diary = useMay('readDiary')
  const visits = [...read(VisitOfDayFragmentDoc, job.visits)].sort((a, b) => (a.from < b.from ? -1 : 1))
  return (
    <section id="visits">
      <h2>Visits</h2>
      {diary && <Needs job={job} />}
      {visits.length === 0 ? (
        <p className="note ruled">
          None in the diary. The best look for blisters is wet, just after the lift; the meter comes weeks later: two
          visits, linked.
        </p>
      ) : (
        <ol className={s.lines}>
          {visits.map((visit) => (
            <li key={visit.id}>
              <span>{visitTime(visit)}</span>
              <span>
                <Link to={`/visits/${visit.id}`}>
                  <b>{capital(visit.kind)}</b>
                </Link>
                <span className="note">
                  {' '}
                  {[
                    visit.yard,
                    visit.daysAshore != null || visit.ashoreBetween
                      ? ashoreWords(visit)
                      : visit.daysAshoreAsWritten && `ashore “${visit.daysAshoreAsWritten}”`,
                    visit.lead?.name,
                  ]
                    .filter(Boolean)
                    .join(' · ')}
                </span>
              </span>
              <span className="small">
                {visit.passes.map((pass) => `${pass.instrument}: ${pass.read} of ${pass.planned}`).join('; ') ||
                  visit.state}
              </span>
            </li>
          ))}
        </ol>
      )}
      <div style={{ marginTop: 12 }}>
        <Allowed to="book">
          <PlanVisit job={job} />
        </Allowed>
      </div>
    </section>
  )
}

function Reports({ job }: { job: JobBodyFragment }) {
  const navigate = useNavigate()
  const [{ fetching, error }, draft] = useMutation(DraftReportDocument)
  return (
    <section id="reports">
      <h2>Report</h2>
      {job.reports.length > 0 && (
        <ol className={s.lines}>
          {job.reports.map((report) => (
            <li key={report.id}>
              <Link to={`/reports/${report.id}`}>
                <b>{report.number ?? 'Draft'}</b>
              </Link>
              <span>{report.title}</span>
              <span className="small">
                {report.state}
                {report.issuedAt && `, ${shortDay(report.issuedAt)}`}
                {report.state === 'issuing' && <Making report={report.id} />}
              </span>
            </li>
          ))}
        </ol>
      )}
      {error && <Failed error={error} />}
      <div style={{ marginTop: 12 }}>
        <Allowed to="writeReport">
          <button
            type="button"
            className="plain"
            disabled={fetching}
            onClick={async () => {
              const { data } = await draft({ input: { mutation: newId('mut'), id: newId('rep'), job: job.id } })
              if (data) navigate(`/reports/${read(ReportBodyFragmentDoc, data.draftReport.report).id}`)
            }}
          >
            Draft a report
          </button>
        </Allowed>
      </div>
    </section>
  )
}

/** What its visits found, each where it was written down. */
function Found({ job }: { job: JobBodyFragment }) {
  if (job.findings.length === 0 && job.windowsBared === 0) return null
  return (
    <section id="found">
      <h2>Found</h2>
      <ol className={s.lines}>
        {job.findings.map((f) => (
          <li key={f.id}>
            <Link to={`/visits/${f.visit}`}>
              <b>{capital(f.kind)}</b>
            </Link>
            <span>
              {f.text}
              {f.lookAgain && <span className="note"> · look again</span>}
            </span>
            <span className="small">{f.sure}</span>
          </li>
        ))}
      </ol>
      {job.windowsBared > 0 && (
        <p className="small note" style={{ paddingTop: 6 }}>
          {plural(job.windowsBared, 'window')} bared, {(job.baredMm2 / 1e6).toFixed(2)} m² together: what is under the
          rest of the coating was not seen.
        </p>
      )}
    </section>
  )
}

function Told({ job }: { job: JobBodyFragment }) {
  return (
    <section id="told">
      <h2>Whose job it is</h2>
      <dl className="facts">
        <dt>client</dt>
        <dd>{job.client?.name ?? 'nobody yet'}</dd>
        <dt>lead</dt>
        <dd>{job.lead?.name ?? 'nobody yet'}</dd>
        <dt>other clients</dt>
        <dd>
          {job.cite}
          {job.citeAgreedOn && <span className="note">, agreed {longDay(job.citeAgreedOn)}</span>}
        </dd>
        <dt>within the practice</dt>
        <dd>{seenBy(job)}</dd>
      </dl>
      <Allowed to="book">
        <div className="buttons" style={{ marginTop: 12 }}>
          <EditJob job={job} />
          <Access job={job} />
        </div>
      </Allowed>
    </section>
  )
}
