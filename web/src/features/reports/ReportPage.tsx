import { type FormEvent, useEffect, useState } from 'react'
import { useParams } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed, NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { Mark } from '../../figure/marks'
import { read } from '../../graphql/gen'
import {
  EditReportDocument,
  IssueReportDocument,
  type ReportBodyFragment,
  ReportBodyFragmentDoc,
  ReportPageDocument,
  RevokeShareDocument,
  TakeSecondLookDocument,
} from '../../graphql/gen/graphql'
import { longDay, shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { asReport } from '../../model/report'
import { bytes, plural } from '../../model/words'
import { TextArea } from '../../ui/Field'
import { Invented } from '../../ui/Invented'
import { Notice } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Sheet } from '../../ui/Sheet'
import { Addenda } from './Addenda'
import { ReportBody } from './ReportBody'
import s from './report.module.css'
import { ShareForm } from './ShareForm'

/** A draft is composed here; an issued report is read here, as its client reads it. */
export default function ReportPage() {
  const { id = '' } = useParams()
  const [{ data, error }, again] = useQuery({ query: ReportPageDocument, variables: { id } })
  const report = data?.report ? read(ReportBodyFragmentDoc, data.report) : null
  const waiting = report?.state === 'issuing'
  // Page and PDF are made by a job; ask until they are there.
  useEffect(() => {
    if (!waiting) return
    const timer = setInterval(() => again({ requestPolicy: 'network-only' }), 1500)
    return () => clearInterval(timer)
  }, [waiting, again])
  if (data && !data.report) return <NotFound />
  const vessel = report?.job.vessel
  return (
    <>
      <Running
        title={vessel?.name ?? 'Report'}
        page={report ? `${vessel?.name}, ${report.number ? `report ${report.number}` : 'draft'}` : 'Report'}
        tabsLabel="This report"
        tabs={
          report && vessel
            ? [
                { to: `/reports/${report.id}`, name: report.number ? `Report ${report.number}` : 'Draft' },
                { to: `/jobs/${report.job.id}`, name: `Job ${report.job.number}` },
                { to: `/vessels/${vessel.id}`, name: 'Resurvey' },
              ]
            : []
        }
      >
        {report && (
          <>
            {report.title}
            {report.job.client && `, for ${report.job.client.name}`}
          </>
        )}
      </Running>
      <main id="main">
        <Answer data={report} error={error} again={again} lines={12}>
          {(report) => <Loaded report={report} review={data?.viewer.practice.reviewRequired ?? false} />}
        </Answer>
        <div style={{ padding: '0 24px 16px' }}>
          <Invented show={data?.viewer.practice.invented} />
        </div>
      </main>
    </>
  )
}

function Loaded({ report, review }: { report: ReportBodyFragment; review: boolean }) {
  const content = asReport(report.content)
  const draft = report.state === 'draft' || report.state === 'in review' || report.state === 'review'
  const composer = draft ? <Compose report={report} review={review} /> : null
  const stands = ['replaced', 'withdrawn', 'amended'].includes(report.state)
  if (!content)
    return (
      <div className="page-body">
        {composer}
        <Notice>
          {report.state === 'issuing'
            ? 'The page and the PDF are being made.'
            : 'This report has no content that this page can show.'}
        </Notice>
      </div>
    )
  return (
    <ReportBody
      inBook
      report={content}
      page={report.pdfBytes ? `/reports/${report.id}/report.html` : undefined}
      head={
        <>
          {composer}
          {report.state === 'issuing' && (
            <div style={{ gridColumn: '1 / -1' }}>
              <Notice>Frozen and numbered. Its page and PDF are being made; in a moment they can be shared.</Notice>
            </div>
          )}
          {stands && (
            <div style={{ gridColumn: '1 / -1' }}>
              <Notice bad={report.state !== 'amended'}>
                {report.state === 'amended'
                  ? 'Something was added to this report: see its addenda. The report itself is as it was issued.'
                  : `This report was ${report.state}. It is kept as it was issued.`}
              </Notice>
            </div>
          )}
        </>
      }
      aside={draft ? null : <Issued report={report} />}
    />
  )
}

function Compose({ report, review }: { report: ReportBodyFragment; review: boolean }) {
  const [said, setSaid] = useState({ inShort: report.inShort, scope: report.scope, limits: report.limits })
  const [issuing, setIssuing] = useState(false)
  const [kept, setKept] = useState(false)
  const [edited, edit] = useMutation(EditReportDocument)
  const [looked, look] = useMutation(TakeSecondLookDocument)
  const [issued, issue] = useMutation(IssueReportDocument)
  const own = said.inShort !== report.inShort || said.scope !== report.scope || said.limits !== report.limits
  const put = (field: keyof typeof said) => (event: { target: { value: string } }) => {
    setKept(false)
    setSaid((now) => ({ ...now, [field]: event.target.value }))
  }
  async function keep(event: FormEvent) {
    event.preventDefault()
    const { data } = await edit({ input: { mutation: newId('mut'), id: report.id, version: report.version, ...said } })
    setKept(Boolean(data))
  }
  const error = edited.error ?? looked.error ?? issued.error
  return (
    <section className={s.way}>
      <form className={s.compose} noValidate onSubmit={keep}>
        <h2 style={{ padding: 0 }}>In your own words</h2>
        <TextArea
          label="In short, before what the figures say"
          value={said.inShort}
          onChange={put('inShort')}
          help="Yours come first; the sentences from the readings follow and are not edited."
        />
        <TextArea label="What was asked" value={said.scope} onChange={put('scope')} />
        <TextArea label="Limits beyond what the record shows" value={said.limits} onChange={put('limits')} />
        <div className="buttons">
          <button type="submit" className={own ? 'act' : 'plain'} disabled={!own || edited.fetching}>
            Keep the words
          </button>
          {kept && !own && <span role="status">Kept.</span>}
        </div>
      </form>
      <div>
        <h2>Before it can be issued</h2>
        <ul className={s.stands}>
          {report.inTheWay.map(({ code, text }) => (
            <li key={code}>
              <Mark kind="hard" />
              <span>{text}</span>
            </li>
          ))}
          {report.secondLookBy && (
            <li>
              <Mark kind="received" />
              <span>
                Second look: {report.secondLookBy.name}
                {report.secondLookAt && `, ${shortDay(report.secondLookAt)}`}
              </span>
            </li>
          )}
          {report.leftOut > 0 && (
            <li>
              <Mark kind="record" />
              <span>
                {plural(report.leftOut, 'thing')} from earlier jobs left out: those jobs do not allow this client to be
                told.
              </span>
            </li>
          )}
          {report.inTheWay.length === 0 && (
            <li>
              <Mark kind="received" />
              <span>Nothing stands in the way.</span>
            </li>
          )}
        </ul>
        {error && <Failed error={error} />}
        <div className="buttons" style={{ marginTop: 12 }}>
          {!report.secondLookBy && (
            <Allowed to="writeReport">
              <button
                type="button"
                className="plain"
                disabled={looked.fetching || own}
                onClick={() => look({ input: { mutation: newId('mut'), id: report.id, version: report.version } })}
              >
                {review ? 'Take the second look' : 'Look it over yourself'}
              </button>
            </Allowed>
          )}
          <Allowed to="issue">
            <button
              type="button"
              className={own ? 'plain' : 'act'}
              disabled={report.inTheWay.length > 0 || own}
              onClick={() => setIssuing(true)}
            >
              Issue the report
            </button>
          </Allowed>
        </div>
        <Sheet title="Issue the report" open={issuing} onClose={() => setIssuing(false)}>
          <p>
            It takes the next number and is frozen: its page and PDF are made from what you see, kept with their hashes,
            and nothing changes them afterwards. A later correction is a numbered addendum.
          </p>
          {issued.error && <Failed error={issued.error} />}
          <div className="buttons" style={{ marginTop: 16 }}>
            <button
              type="button"
              className="act"
              disabled={issued.fetching}
              onClick={async () => {
                const { data } = await issue({
                  input: { mutation: newId('mut'), id: report.id, version: report.version },
                })
                if (data) setIssuing(false)
              }}
            >
              Issue it
            </button>
            <button type="button" className="plain" onClick={() => setIssuing(false)}>
              Not yet
            </button>
          </div>
        </Sheet>
      </div>
    </section>
  )
}

function Issued({ report }: { report: ReportBodyFragment }) {
  const [sharing, setSharing] = useState(false)
  const [, revoke] = useMutation(RevokeShareDocument)
  return (
    <>
      {report.pdfBytes ? (
        <>
          <p style={{ marginTop: 16 }}>
            <a className="act" href={`/reports/${report.id}/report.pdf`} download>
              Download PDF
            </a>
          </p>
          <p className="small note" style={{ margin: '6px 0 0' }}>
            {bytes(report.pdfBytes)}, {report.pdfPages ? plural(report.pdfPages, 'page') : ''}, {report.paper}. SHA-256
            begins {(report.pdfSha256 ?? '').slice(0, 12).replace(/(.{4})/g, '$1 ')}.{' '}
            {report.addenda.length === 0 ? 'No addendum.' : plural(report.addenda.length, 'addendum', 'addenda')}
          </p>
        </>
      ) : null}
      <Addenda report={report} />
      <h2>Links</h2>
      <ul className={s.links}>
        {report.shares.length === 0 && <li className="note">Nobody has a link yet.</li>}
        {report.shares.map((share) => (
          <li key={share.id}>
            <b>{share.name}</b>
            {share.purpose && `, ${share.purpose}`}
            <br />
            <span className="note">
              {share.revokedAt
                ? `taken back ${shortDay(share.revokedAt)}`
                : `until ${longDay(share.until)}; ${share.openings === 0 ? 'not opened yet' : `opened ${plural(share.openings, 'time')}${share.lastOpenedAt ? `, last ${shortDay(share.lastOpenedAt)}` : ''}`}`}
            </span>
            {!share.revokedAt && (
              <>
                <br />
                <button
                  type="button"
                  className="quiet"
                  onClick={() => revoke({ input: { mutation: newId('mut'), id: share.id } })}
                >
                  take it back
                </button>
              </>
            )}
          </li>
        ))}
      </ul>
      {report.state !== 'issuing' && (
        <p style={{ marginTop: 8 }}>
          <Allowed to="share">
            <button type="button" className="plain" onClick={() => setSharing(true)}>
              Send a link
            </button>
          </Allowed>
        </p>
      )}
      <ShareForm report={report} open={sharing} onClose={() => setSharing(false)} />
    </>
  )
}
