import { useEffect, useRef, useState } from 'react'
import { Link, useParams } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Allowed, useMay } from '../../app/Allowed'
import { Failed, NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { read } from '../../graphql/gen'
import {
  type ReportBodyFragment,
  ReportBodyFragmentDoc,
  ReportPageDocument,
  RevokeShareDocument,
} from '../../graphql/gen/graphql'
import { longDay, shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { asReport } from '../../model/report'
import { bytes, plural, sentence } from '../../model/words'
import { Choice } from '../../ui/Choice'
import { Invented } from '../../ui/Invented'
import { Notice } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { useNarrow } from '../../ui/useWidth'
import { Addenda } from './Addenda'
import { Composer } from './Composer'
import c from './composer.module.css'
import { Making } from './Making'
import { Replace } from './Replace'
import { ReportBody } from './ReportBody'
import s from './report.module.css'
import { ShareForm } from './ShareForm'
import { Withdraw } from './Withdraw'

/** A draft is composed here; an issued report is read here, as its client reads it. */
export default function ReportPage() {
  const { id = '' } = useParams()
  const [{ data: answered, error }, again] = useQuery({ query: ReportPageDocument, variables: { id } })
  // A question that fails, as in a van without a connection, takes nothing away that was there to write on.
  const last = useRef(answered)
  if (answered) last.current = answered
  const data = answered ?? last.current
  const there = data?.report ? read(ReportBodyFragmentDoc, data.report) : null
  const report = there?.id === id ? there : null
  const waiting = report?.state === 'issuing'
  // Page and PDF are made by a job; ask until they are there. How far it has got stands at the head of the page.
  useEffect(() => {
    if (!waiting) return
    window.scrollTo(0, 0)
    const timer = setInterval(() => again({ requestPolicy: 'network-only' }), 1500)
    return () => clearInterval(timer)
  }, [waiting, again])
  // The page as it would be printed follows the words, once they rest.
  const written = report?.number ? null : report?.version
  const shown = useRef<number | null>(null)
  useEffect(() => {
    if (!written) return
    if (shown.current === null || shown.current === written) {
      shown.current = written
      return
    }
    const timer = setTimeout(() => {
      shown.current = written
      again({ requestPolicy: 'network-only' })
    }, 1200)
    return () => clearTimeout(timer)
  }, [written, again])
  if (answered && !answered.report) return <NotFound />
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
                { to: `/reports/${report.id}/history`, name: 'History' },
                { to: `/jobs/${report.job.id}`, name: `Job ${report.job.number}` },
                { to: `/vessels/${vessel.id}`, name: 'Resurvey' },
              ]
            : []
        }
      >
        {report && [report.title, report.job.client && `for ${report.job.client.name}`].filter(Boolean).join(', ')}
      </Running>
      <main id="main">
        <Answer data={report} error={report ? undefined : error} again={again} lines={12}>
          {(report) => <Loaded report={report} review={data?.viewer.practice.reviewRequired ?? false} />}
        </Answer>
        <div className={s.foot}>
          <Invented show={data?.viewer.practice.invented} />
        </div>
      </main>
    </>
  )
}

function Loaded({ report, review }: { report: ReportBodyFragment; review: boolean }) {
  const content = asReport(report.content)
  const draft = report.state === 'draft' || report.state === 'in review'
  if (draft) return <Writing report={report} content={content} review={review} />
  if (!content)
    return (
      <div className="page-body">
        <Notice>
          {report.state === 'issuing' ? (
            <>
              The page and the PDF are being made. <Making report={report.id} />
            </>
          ) : (
            'This report has no content that this page can show.'
          )}
        </Notice>
      </div>
    )
  return (
    <ReportBody
      inBook
      report={content}
      trace={report.traces}
      page={report.pdfBytes ? `/reports/${report.id}/report.html` : undefined}
      head={<Standing report={report} />}
      aside={<Issued report={report} />}
    />
  )
}

/** The draft's words, and beside them the page as it would be printed; on a phone one after the other. */
function Writing({
  report,
  content,
  review,
}: {
  report: ReportBodyFragment
  content: ReturnType<typeof asReport>
  review: boolean
}) {
  const narrow = useNarrow(1199, 'screen') // on paper stands what is to be read
  const [side, setSide] = useState<'write' | 'read'>('write')
  const page = (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls by itself is reached by keyboard, too
    <section className={c.preview} aria-label="The draft as it would be printed" tabIndex={0}>
      {content ? (
        <ReportBody inBook report={content} trace={report.traces} />
      ) : (
        <Notice>This draft has no content that this page can show.</Notice>
      )}
    </section>
  )
  if (!useMay('writeReport')) return page
  return (
    <>
      {narrow && (
        <div className={c.sides3}>
          <Choice
            label="This draft"
            value={side}
            onChange={setSide}
            options={[
              { value: 'write', name: 'Write it' },
              { value: 'read', name: 'Read it' },
            ]}
          />
        </div>
      )}
      <div className={c.desk}>
        {(!narrow || side === 'write') && <Composer report={report} review={review} />}
        {(!narrow || side === 'read') && page}
      </div>
    </>
  )
}

/** What came after an issued report, said before anything else. */
function Standing({ report }: { report: ReportBodyFragment }) {
  const issued = report.addenda.filter(({ state }) => state === 'issued')
  const ended = report.state === 'replaced' || report.state === 'withdrawn'
  const here = useRef<HTMLDivElement>(null)
  const was = useRef(ended)
  // The button that was pressed is gone with the report's standing: who goes on by keyboard goes on from what it says.
  useEffect(() => {
    if (ended && !was.current) {
      window.scrollTo(0, 0)
      // The sheet gives focus back first, to where it came from, which is gone.
      const timer = setTimeout(() => here.current?.focus({ preventScroll: true }), 60)
      was.current = ended
      return () => clearTimeout(timer)
    }
  }, [ended])
  return (
    <div style={{ gridColumn: '1 / -1' }} ref={here} tabIndex={-1}>
      {report.state === 'issuing' && (
        <Notice>
          Frozen and numbered. Its page and PDF are being made; in a moment they can be shared.{' '}
          <Making report={report.id} />
        </Notice>
      )}
      {ended && (
        <Notice bad>
          {report.replacedBy ? (
            <>
              <Link to={`/reports/${report.replacedBy}`}>Report {report.replacedByNumber}</Link> has taken the place of
              this one.
            </>
          ) : (
            'This report was withdrawn.'
          )}{' '}
          {report.endedBecause && `${sentence(report.endedBecause)} `}
          {report.endedAt && (
            <span className="note">{[report.endedByName, longDay(report.endedAt)].filter(Boolean).join(', ')}. </span>
          )}
          It is kept as it was issued.
        </Notice>
      )}
      {issued.length > 0 && (
        <Notice>
          {issued.map(({ id, number, issuedAt, pageSha256 }) => (
            <span key={id} style={{ display: 'block' }}>
              {pageSha256 ? (
                <a href={`/reports/${report.id}/addenda/${number}/page`}>Addendum {number}</a>
              ) : (
                <b>Addendum {number}</b>
              )}
              {issuedAt && `, ${longDay(issuedAt)}`}, adds to it and is read with it.
            </span>
          ))}
          The report itself is as it was issued.
        </Notice>
      )}
      {report.replaces.length > 0 && (
        <Notice>
          It took the place of{' '}
          {report.replaces.map(({ id, number }, k) => (
            <span key={id}>
              {k > 0 && ', '}
              <Link to={`/reports/${id}`}>report {number}</Link>
            </span>
          ))}
          .
        </Notice>
      )}
    </div>
  )
}

function Issued({ report }: { report: ReportBodyFragment }) {
  const [sharing, setSharing] = useState(false)
  const [revoked, revoke] = useMutation(RevokeShareDocument)
  return (
    <>
      {report.pdfBytes ? (
        <>
          <p style={{ marginTop: 16 }}>
            <a className="act" href={`/reports/${report.id}/report.pdf`}>
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
                : `until ${longDay(share.until)}${share.asksCode ? ', with a code by mail' : ''}; ${share.openings === 0 ? 'not opened yet' : `opened ${plural(share.openings, 'time')}${share.lastOpenedAt ? `, last ${shortDay(share.lastOpenedAt)}` : ''}`}`}
            </span>
            {!share.revokedAt && (
              <Allowed to="share">
                <br />
                <button
                  type="button"
                  className="quiet"
                  disabled={revoked.fetching}
                  onClick={() => revoke({ input: { mutation: newId('mut'), id: share.id } })}
                >
                  take it back<span className="sr">: the link of {share.name}</span>
                </button>
              </Allowed>
            )}
          </li>
        ))}
      </ul>
      {revoked.error && <Failed error={revoked.error} />}
      {report.state !== 'issuing' && (
        <p style={{ marginTop: 8 }}>
          <Allowed to="share">
            <button type="button" className="plain" onClick={() => setSharing(true)}>
              Send a link
            </button>
          </Allowed>
        </p>
      )}
      <Replace report={report} />
      <Withdraw report={report} />
      <ShareForm report={report} open={sharing} onClose={() => setSharing(false)} />
    </>
  )
}
