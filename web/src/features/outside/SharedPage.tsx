import { useEffect, useState } from 'react'
import { useParams } from 'react-router'
import { HullFigure } from '../../figure/HullFigure'
import { ValueKey } from '../../figure/marks'
import { longDay, shortDay } from '../../model/dates'
import { asReport, hullOf, plateReadings, type ReportData } from '../../model/report'
import { bytes, capital, plural } from '../../model/words'
import { Grade, Sure } from '../../ui/Grade'
import { Notice, Waiting } from '../../ui/Notice'
import { useWidth } from '../../ui/useWidth'
import { ReportBody, Said } from '../reports/ReportBody'
import s from './shared.module.css'

/** An issued report as the person named on the link may read it: SharedReport of the schema. */
interface Shared {
  number: string
  title: string
  state: string
  issuedOn: string
  practiceName: string
  forName: string
  purpose: string
  openUntil: string
  boat: { name: string; kind: string; otherReports: string[] }
  tasks: { grade: string; sure: string; what: string; reason: string; byOn?: string | null; byAsWritten: string }[]
  content: unknown
  pdfBytes: number
  pdfPages: number
  openings: number
  lastOpenedAt?: string | null
  addenda: { number: number; issuedAt: string; text: string; pdfBytes?: number | null }[]
  replacedByNumber?: string | null
  invented: boolean
}

type State = { kind: 'waiting' } | { kind: 'there'; report: Shared } | { kind: 'shut'; text: string; again: boolean }

/** What a client sees: what, where, how sure, how urgent, by when; the whole report and its PDF one step away. */
export default function SharedPage() {
  const { token = '' } = useParams()
  const [state, setState] = useState<State>({ kind: 'waiting' })
  const [turn, setTurn] = useState(0)
  // biome-ignore lint/correctness/useExhaustiveDependencies: `turn` asks again
  useEffect(() => {
    const stop = new AbortController()
    fetch(`/share/${encodeURIComponent(token)}`, { signal: stop.signal, headers: { Accept: 'application/json' } })
      .then(async (answer) => {
        const said = await answer.json().catch(() => null)
        if (answer.ok && said?.data?.report) setState({ kind: 'there', report: said.data.report as Shared })
        else
          setState({
            kind: 'shut',
            text: answer.status === 404 ? shut : (said?.error?.message ?? shut),
            again: answer.status >= 500,
          })
      })
      .catch(() => {
        if (!stop.signal.aborted)
          setState({
            kind: 'shut',
            text: 'The page cannot be reached. Check the connection and try again.',
            again: true,
          })
      })
    return () => stop.abort()
  }, [token, turn])
  if (state.kind === 'waiting')
    return (
      <main className={s.page}>
        <Waiting lines={8} label="Opening the report" />
      </main>
    )
  if (state.kind === 'shut')
    return (
      <main className={s.page}>
        <header className={s.cover}>
          <p className={s.kind}>A report by link</p>
          <h1>Not open</h1>
        </header>
        <Notice
          bad
          ways={
            state.again && (
              <button type="button" className="plain" onClick={() => setTurn((n) => n + 1)}>
                Try again
              </button>
            )
          }
        >
          {state.text}
        </Notice>
      </main>
    )
  return <Open token={token} shared={state.report} />
}

const shut = 'This link opens nothing any more: it has run out, or was taken back. Ask whoever sent it for another.'

function Open({ token, shared }: { token: string; shared: Shared }) {
  const [whole, setWhole] = useState(false)
  const report = asReport(shared.content)
  useEffect(() => {
    document.title = `${shared.boat.name}, report ${shared.number}`
  }, [shared])
  const pdf = `/share/${encodeURIComponent(token)}/report.pdf`
  if (whole && report)
    return (
      <main>
        <p className={s.back}>
          <button type="button" className="plain" onClick={() => setWhole(false)}>
            Back to the short page
          </button>
          <a className="act" href={pdf} download>
            Download PDF
          </a>
        </p>
        <ReportBody report={report} page={`/share/${encodeURIComponent(token)}/report.html`} />
      </main>
    )
  return (
    <main className={s.page} id="main">
      <header className={s.cover}>
        <p className={s.kind}>{shared.title}</p>
        <h1>{shared.boat.name}</h1>
        <p className="note">
          Report {shared.number}, issued {longDay(shared.issuedOn)} by {shared.practiceName}. For {shared.forName}
          {shared.purpose && `, ${shared.purpose}`}; open to you until {longDay(shared.openUntil)}.
        </p>
      </header>
      {shared.state === 'withdrawn' && (
        <Notice bad>This report was withdrawn by the practice. It is kept as it was issued; do not rely on it.</Notice>
      )}
      {shared.replacedByNumber && (
        <Notice bad>Report {shared.replacedByNumber} has taken the place of this one. Ask for it.</Notice>
      )}
      {shared.addenda.map((addendum) => (
        <Notice key={addendum.number}>
          <b>Addendum {addendum.number}</b>, {longDay(addendum.issuedAt)}: {addendum.text}{' '}
          {addendum.pdfBytes && (
            <a href={pdf.replace(/report\.pdf$/, `addenda/${addendum.number}`)} download>
              As PDF, {bytes(addendum.pdfBytes)}
            </a>
          )}
        </Notice>
      ))}
      <div className={s.get}>
        <a className="act" href={pdf} download>
          Download PDF
        </a>
        <span className="small">
          {bytes(shared.pdfBytes)}, {plural(shared.pdfPages, 'page')}.{' '}
          {shared.openings > 1 &&
            `Opened by you ${plural(shared.openings, 'time')}${shared.lastOpenedAt ? `, last on ${shortDay(shared.lastOpenedAt)}` : ''}.`}
        </span>
      </div>
      {report && (
        <>
          <Said list={report.inShort} className="lead" />
          <Figure report={report} />
        </>
      )}
      {shared.tasks.length > 0 && (
        <>
          <h2>What you were asked to do</h2>
          {shared.tasks.map((task) => (
            <article key={task.what} className={s.todo}>
              <p className={s.grade}>
                <Grade grade={task.grade} />
                <span className="push">{task.byOn ? `by ${shortDay(task.byOn)}` : task.byAsWritten}</span>
              </p>
              <p>{task.what}</p>
              <p className="small note">
                {task.reason} <Sure word={task.sure} />
              </p>
            </article>
          ))}
        </>
      )}
      {report && (
        <p style={{ marginTop: 16 }}>
          <button type="button" className="plain" onClick={() => setWhole(true)}>
            Read the whole report here
          </button>
        </p>
      )}
      {shared.boat.otherReports.length > 0 && (
        <>
          <h2>Your boat’s other reports</h2>
          <ul className={s.others}>
            {shared.boat.otherReports.map((number) => (
              <li key={number}>
                <b>{number}</b> <span className="note">open by its own link</span>
              </li>
            ))}
          </ul>
        </>
      )}
      <p className="small" style={{ marginTop: 14 }}>
        Opinion on the condition on the day, within the limits stated in the report. Not a certificate of seaworthiness,
        class, safety or compliance.
      </p>
      {shared.invented && <p className="invented page-foot">An invented harbour, practice, boat and people.</p>}
    </main>
  )
}

function Figure({ report }: { report: ReportData }) {
  const [ref, width] = useWidth<HTMLElement>(448)
  const plate = report.plates?.find(({ mode }) => mode === 'readings')
  if (!plate) return null
  const pass = report.passes?.find(({ id }) => id === plate.pass) ?? report.passes?.[0]
  return (
    <>
      <figure ref={ref} className={s.plate}>
        <HullFigure
          {...hullOf(report, plate)}
          width={width}
          small
          readings={plateReadings(report, plate)}
          label={`${capital(plate.alt)} The whole report has them as a table.`}
        />
      </figure>
      {pass?.edges && <ValueKey words={pass.edges} small />}
    </>
  )
}
