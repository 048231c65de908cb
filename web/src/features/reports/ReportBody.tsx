import type { ReactNode } from 'react'
import { Link } from 'react-router'
import { Mark } from '../../figure/marks'
import type { Advice, ReportData } from '../../model/report'
import { Grade, Sure } from '../../ui/Grade'
import { Table } from '../../ui/Table'
import { Examined, Value } from './Examined'
import { Plate } from './Plates'
import s from './report.module.css'
import { Facts, Said } from './Said'

/** What statements rest on, by the ids that they name. */
function standBehind(report: ReportData): ReadonlyMap<string, string> {
  const names = new Map<string, string>()
  for (const { id, number, against } of report.plates ?? []) {
    names.set(id, `plate ${number}`)
    if (against) names.set(against, `plate ${number}`)
  }
  return names
}

/** The report as a page: the same data and the same plates as the PDF. */
export function ReportBody({
  report,
  aside,
  head,
  page,
  inBook,
  trace,
}: {
  report: ReportData
  /** For members: figures lead to the entries that they were made from. */
  trace?: readonly { what: string; visit: string }[]
  /** Where the issued page is, with the photos in it; empty for a draft. */
  page?: string | undefined
  aside?: ReactNode
  head?: ReactNode
  /** Under a running head that names the boat already. */
  inBook?: boolean
}) {
  const { issue, client } = report
  const names = standBehind(report)
  return (
    <div className={s.holder}>
      <article className={issue.draft ? `${s.report} ${s.draft}` : s.report}>
        <header className={s.masthead}>
          <div>
            <p className={s.kind}>{report.kind}</p>
            {inBook ? <p className={s.name}>{report.vessel.name}</p> : <h1 className={s.name}>{report.vessel.name}</h1>}
          </div>
          <p className={s.numbered}>
            {issue.draft ? (
              <>
                <b>Draft, not issued</b>
                <br />
                as it stands on {issue.on}
              </>
            ) : (
              <>
                <b>Report {issue.number}</b>
                <br />
                issued {issue.on}
              </>
            )}
            <br />
            for {client.name}
            {client.as && `, ${client.as}`}
          </p>
        </header>
        {head}
        <section className={s.text}>
          <h2>In short</h2>
          {report.inShort?.length ? (
            <Said list={report.inShort} className="lead measure" names={names} />
          ) : (
            <p className="note">Nothing is said yet: no words are written here, and no pass of this job is closed.</p>
          )}
          {report.scope?.length ? (
            <>
              <h2>What was asked</h2>
              <Said list={report.scope} className="measure" />
            </>
          ) : null}
          <h2>What to do</h2>
          <WhatToDo list={report.recommendations ?? []} />
          <h2>Limits</h2>
          {report.limits?.length ? (
            <Said list={report.limits} className="measure" />
          ) : (
            <p className="note">None noted yet.</p>
          )}
          {trace && <Passes report={report} />}
          {report.findings?.length ? (
            <>
              <h2>Seen and opened</h2>
              {report.findings.map((finding) => (
                <div key={finding.id} id={finding.id} className={s.finding}>
                  <h3>
                    {finding.number}. {finding.title}
                  </h3>
                  <p className="small note">
                    {finding.where && `${finding.where} · `}
                    <Sure word={finding.sure} />
                    {trace
                      ?.filter(({ what }) => what === finding.id)
                      .map(({ visit }) => (
                        <span key={visit} className="no-print">
                          {' '}
                          · <Link to={`/visits/${visit}`}>as it was written down</Link>
                        </span>
                      ))}
                  </p>
                  <Said list={finding.text} />
                  {finding.measured?.length ? <Facts list={finding.measured} /> : null}
                </div>
              ))}
            </>
          ) : null}
          <Examined areas={report.schedule} findings={report.findings} />
          <Value value={report.valuation} />
          {report.sections?.map((section) => (
            <div key={section.id ?? section.title}>
              <h2>{section.title}</h2>
              {(section.text ?? []).map((paragraph, i) => (
                <p key={i} className="measure">
                  {paragraph}
                </p>
              ))}
            </div>
          ))}
          {report.photos?.length ? (
            <>
              <h2>Photos</h2>
              <ol className="plain-list">
                {report.photos.map((photo) => (
                  <li key={photo.id} id={photo.id}>
                    <b>Photo {photo.number}</b> {photo.caption}
                    <span className="small note">
                      {[
                        photo.place && `place ${photo.place}`,
                        photo.taken && `taken ${photo.taken}`,
                        photo.by && `by ${photo.by}`,
                      ]
                        .filter(Boolean)
                        .map((each) => ` · ${each}`)
                        .join('')}
                    </span>
                  </li>
                ))}
              </ol>
              <p className="small note">
                {page ? (
                  <>
                    They stand in the PDF and on <a href={page}>the page as it was issued</a>.
                  </>
                ) : (
                  'They are printed when it is issued. Which ones, the visit says.'
                )}
              </p>
            </>
          ) : null}
        </section>
        <aside className={s.aside}>
          {aside && <div className="no-print">{aside}</div>}
          <h2>The boat</h2>
          <Facts list={report.boat} />
          {report.taken?.length ? (
            <>
              <h2>How it was read</h2>
              <Facts list={report.taken} />
            </>
          ) : null}
        </aside>
        <div className={s.whole}>
          {report.plates?.map((plate) => (
            <Plate key={plate.id} report={report} plate={plate} trace={Boolean(trace)} />
          ))}
          <Visits report={report} />
          <p className={s.caution}>
            Opinion on the condition on the day, within the limits stated. Not a certificate of seaworthiness, class,
            safety or compliance, and no guarantee of what comes after. A meter number has no unit and is not a share of
            water. For the person named above; shared with others only by written leave.
          </p>
          {report.cautions?.map((caution) => (
            <p key={caution} className="small">
              {caution}
            </p>
          ))}
          <p className={s.signed}>
            {report.signature && (
              <>
                <i>{report.signature.name}</i>
                <span>
                  {report.signature.name}, {report.signature.as}
                  {report.signature.on && `, ${report.signature.on}`}
                </span>
              </>
            )}
            {report.review && <span>{report.review}</span>}
            {report.auditHead && <span className="small note">audit head {report.auditHead}</span>}
          </p>
          {report.invented && <p className="invented">{report.invented}</p>}
        </div>
      </article>
    </div>
  )
}

/** The passes that figures and limits were made from, each with its entries one step away. */
function Passes({ report }: { report: ReportData }) {
  if (!report.passes?.length) return null
  return (
    <p className="small note no-print">
      Made from{' '}
      {report.passes.map((pass, k) => (
        <span key={pass.id}>
          {k > 0 && ', '}
          <Link to={`/passes/${pass.id}`}>
            the entries of {pass.on}, {pass.instrument}
          </Link>
        </span>
      ))}
      .
    </p>
  )
}

function WhatToDo({ list }: { list: readonly Advice[] }) {
  if (list.length === 0) return <p className="note">Nothing is recommended.</p>
  return (
    <Table
      caption="What to do, most urgent first"
      hideCaption
      className={`folds ${s.recs}`}
      columns={[
        { head: 'how urgent', cell: (r) => <Grade grade={r.grade} /> },
        {
          head: 'what to do',
          cell: (r) => (
            <>
              {r.because ? r.what.replace(/\.?$/, '.') : r.what}
              {r.because && <span className="small note"> {r.because}</span>}
              {r.state && (
                <span className="small note">
                  {' '}
                  ({[r.state, r.first && `first in report ${r.first}`].filter(Boolean).join(', ')})
                </span>
              )}
            </>
          ),
        },
        { head: 'how sure', nowrap: true, cell: (r) => <Sure word={r.sure} /> },
        { head: 'who', cell: (r) => r.who },
        { head: 'by', cell: (r) => r.by },
        { head: 'closed by', cell: (r) => r.closedBy },
      ]}
      rows={list}
      id={(r) => r.what}
    />
  )
}

function Visits({ report }: { report: ReportData }) {
  if (!report.visits?.length) return null
  const marks = { same: 'same', alike: 'alike', unlike: 'unlike', quoted: 'quoted', look: 'look' } as const
  return (
    <section>
      <h2>Earlier visits</h2>
      <Table
        caption="Earlier visits and whether they can be compared"
        hideCaption
        columns={[
          { head: 'on', names: true, nowrap: true, cell: (v) => v.on },
          { head: 'ashore', nowrap: true, cell: (v) => v.ashore },
          { head: 'instrument', cell: (v) => v.instrument },
          { head: 'surveyor', cell: (v) => v.surveyor },
          {
            head: 'stands',
            nowrap: true,
            cell: (v) => (
              <span className="said">
                {v.standing in marks && <Mark kind={v.standing as keyof typeof marks} />}
                {v.standing === 'look' ? 'wet look' : v.standing}
              </span>
            ),
          },
          { head: 'why', cell: (v) => v.why },
        ]}
        rows={report.visits}
        id={(v) => v.on}
      />
    </section>
  )
}
