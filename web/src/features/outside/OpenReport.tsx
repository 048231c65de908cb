import { type ReactNode, useEffect, useState } from 'react'
import { HullFigure } from '../../figure/HullFigure'
import { ValueKey } from '../../figure/marks'
import { longDay, shortDay } from '../../model/dates'
import { asReport, hullOf, plateReadings, type ReportData } from '../../model/report'
import { bytes, capital, plural, sentence } from '../../model/words'
import { Notice } from '../../ui/Notice'
import { useWidth } from '../../ui/useWidth'
import { ReportBody } from '../reports/ReportBody'
import { Said } from '../reports/Said'
import { Messages, Permits, type Says, Tasks } from './ClientSide'
import { Invoices } from './Invoices'
import { ProofProvider } from './proof'
import s from './shared.module.css'

/** An issued report as the person it is shared with may read it: SharedReport of the schema. */
export interface SharedReport extends Says {
  number: string
  title: string
  state: string
  issuedOn: string
  practiceName: string
  forName: string
  purpose: string
  openUntil: string
  boat: { name: string; kind: string; otherReports: string[] }
  content: unknown
  pdfBytes: number
  pdfPages: number
  openings: number
  lastOpenedAt?: string | null
  addenda: { number: number; issuedAt: string; text: string; pdfBytes?: number | null; page: boolean }[]
  replacedByNumber?: string | null
  endedBecause: string
  invented: boolean
  photos: number
}

interface Props {
  shared: SharedReport
  /** Where its files are: by link, or in an account. */
  files: string
  byLink?: boolean
  /** The code with which it was opened, where the link asked for one. */
  proved?: string
  back?: ReactNode
  foot?: ReactNode
}

/** What a client sees: what, where, how sure, how urgent, by when; the client’s own word; the whole report and its PDF one step away. */
export function OpenReport(props: Props) {
  return (
    <ProofProvider byLink={props.byLink ?? false} proved={props.proved ?? ''}>
      <Opened {...props} />
    </ProofProvider>
  )
}

function Opened({ shared, files, back, foot }: Props) {
  const [whole, setWhole] = useState(false)
  const [says, setSays] = useState<Says>(shared)
  const report = asReport(shared.content)
  useEffect(() => {
    document.title = `${shared.boat.name}, report ${shared.number}`
  }, [shared])
  const pdf = `${files}/report.pdf`
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
        <Standing shared={shared} files={files} />
        <ReportBody report={report} page={`${files}/report.html`} />
      </main>
    )
  return (
    <main className={s.page} id="main">
      {back && <p className={`small ${s.archive}`}>{back}</p>}
      <header className={s.cover}>
        <p className={s.kind}>{shared.title}</p>
        <h1>{shared.boat.name}</h1>
        <p className="note">
          Report {shared.number}, issued {longDay(shared.issuedOn)} by {shared.practiceName}. For {shared.forName}
          {shared.purpose && `, ${shared.purpose}`}; open to you until {longDay(shared.openUntil)}.
        </p>
      </header>
      <Standing shared={shared} files={files} />
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
      {shared.photos > 0 && (
        <p className={`small ${s.archive}`}>
          <a href={`${files}/photos.zip`} download>
            {plural(shared.photos, 'photo')} of this report, as one archive
          </a>
        </p>
      )}
      {report && (
        <>
          <Said list={report.inShort} className="lead" />
          <Figure report={report} />
        </>
      )}
      {says.tasks.length > 0 && (
        <>
          <h2>What you were asked to do</h2>
          <Tasks says={says} onSaid={setSays} />
        </>
      )}
      {report && (
        <p style={{ marginTop: 16 }}>
          <button type="button" className="plain" onClick={() => setWhole(true)}>
            Read the whole report here
          </button>
        </p>
      )}
      <Invoices files={files} />
      <Messages says={says} onSaid={setSays} />
      <Permits says={says} onSaid={setSays} />
      {shared.boat.otherReports.length > 0 && !back && (
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
      {foot}
      <p className="small" style={{ marginTop: 14 }}>
        Opinion on the condition on the day, within the limits stated in the report. Not a certificate of seaworthiness,
        class, safety or compliance.
      </p>
      {shared.invented && <p className="invented page-foot">An invented harbour, practice, boat and people.</p>}
    </main>
  )
}

/** What came after the report, said before anything of it. */
function Standing({ shared, files }: { shared: SharedReport; files: string }) {
  return (
    <>
      {shared.state === 'withdrawn' && (
        <Notice bad>
          This report was withdrawn by the practice. {sentence(shared.endedBecause)} It is kept as it was issued; do not
          rely on it.
        </Notice>
      )}
      {shared.replacedByNumber && (
        <Notice bad>
          Report {shared.replacedByNumber} has taken the place of this one. {sentence(shared.endedBecause)} Ask for it.
        </Notice>
      )}
      {shared.addenda.map((addendum) => (
        <Notice key={addendum.number}>
          <b>Addendum {addendum.number}</b>, {longDay(addendum.issuedAt)}: {addendum.text}{' '}
          {addendum.page && (
            <>
              <a href={`${files}/addenda/${addendum.number}/page`}>Read it as a page</a>
              {addendum.pdfBytes ? ' · ' : ''}
            </>
          )}
          {addendum.pdfBytes && (
            <a href={`${files}/addenda/${addendum.number}`} download>
              As PDF, {bytes(addendum.pdfBytes)}
            </a>
          )}
        </Notice>
      ))}
    </>
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
