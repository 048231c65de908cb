import { type FormEvent, useEffect, useRef, useState } from 'react'
import { useMutation } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { Mark } from '../../figure/marks'
import {
  CommentOnDraftDocument,
  IssueReportDocument,
  type ReportBodyFragment,
  ResolveCommentDocument,
  SendForReviewDocument,
  TakeSecondLookDocument,
} from '../../graphql/gen/graphql'
import { clock, shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { asReport, type ReportData } from '../../model/report'
import { SelectField, TextArea } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { Changes } from './Changes'
import c from './composer.module.css'
import s from './report.module.css'
import type { Draft } from './useDraft'

/** The second look: what was said to the draft, what changed since it was sent, and the way to its issue. */
export function Review({ report, draft, required }: { report: ReportBodyFragment; draft: Draft; required: boolean }) {
  const [sent, send] = useMutation(SendForReviewDocument)
  const [looked, look] = useMutation(TakeSecondLookDocument)
  const [issuing, setIssuing] = useState(false)
  const own = draft.saving !== 'kept'
  const at = { mutation: newId('mut'), id: report.id, version: report.version }
  const error = sent.error ?? looked.error
  const here = useRef<HTMLElement>(null)
  const issue = useRef<HTMLButtonElement>(null)
  const [taken, setTaken] = useState(0)
  useEffect(() => {
    // The button that was pressed is gone once the look is taken: who goes on by keyboard goes on from here.
    if (taken > 0) (issue.current?.disabled === false ? issue : here).current?.focus()
  }, [taken])
  async function takeLook() {
    const { data } = await look({ input: at })
    if (data) setTaken((n) => n + 1)
  }
  return (
    <section id="review" ref={here} tabIndex={-1}>
      <h2>Looking it through</h2>
      <Comments report={report} />
      {report.sent && <Changes sent={report.sent} />}
      <Stand report={report} />
      {error && <Failed error={error} />}
      <div className="buttons" style={{ marginTop: 12 }}>
        <Allowed to="writeReport">
          <button type="button" className="plain" disabled={own || sent.fetching} onClick={() => send({ input: at })}>
            {report.sent ? 'Send it for review again' : 'Send it for review'}
          </button>
        </Allowed>
        {!report.secondLookBy && (
          <Allowed to="issue">
            <button type="button" className="plain" disabled={own || looked.fetching} onClick={takeLook}>
              {required ? (report.lookFrom ? 'Take the self-check' : 'Take the second look') : 'Look it over yourself'}
            </button>
          </Allowed>
        )}
        <Allowed to="issue">
          <button
            type="button"
            ref={issue}
            className={own ? 'plain' : 'act'}
            disabled={report.inTheWay.length > 0 || own}
            onClick={() => setIssuing(true)}
          >
            Issue the report
          </button>
        </Allowed>
      </div>
      <Issue report={report} open={issuing} onClose={() => setIssuing(false)} />
    </section>
  )
}

function Stand({ report }: { report: ReportBodyFragment }) {
  return (
    <ul className={s.stands}>
      {report.editedAt && (
        <li>
          <Mark kind="record" />
          <span>
            Last written in{report.editedBy && ` by ${report.editedBy.name}`}, {shortDay(report.editedAt)},{' '}
            {clock(report.editedAt)}
          </span>
        </li>
      )}
      {report.secondLookBy && (
        <li>
          <Mark kind="received" />
          <span>
            Second look: {report.secondLookBy.name}
            {report.secondLookAt && `, ${shortDay(report.secondLookAt)}`}
          </span>
        </li>
      )}
      {report.lookFrom && !report.secondLookBy && (
        <li>
          <Mark kind="watch" />
          <span>
            Nobody else signs here: a self-check counts from {shortDay(report.lookFrom)}, {clock(report.lookFrom)}, and
            is printed as one.
          </span>
        </li>
      )}
    </ul>
  )
}

/** The parts that a comment can speak of, each with its statements. */
function partsOf(content: ReportData | null): { code: string; name: string; said: string[] }[] {
  const text = (list: readonly { runs: { text: string }[] }[] | undefined) =>
    (list ?? []).map(({ runs }) => runs.map((run) => run.text).join(''))
  return [
    { code: 'inShort', name: 'In short', said: text(content?.inShort) },
    { code: 'scope', name: 'What was asked', said: text(content?.scope) },
    { code: 'recommendations', name: 'What to do', said: (content?.recommendations ?? []).map(({ what }) => what) },
    ...(content?.sections ?? []).map(({ id, title, text }) => ({ code: id ?? title, name: title, said: text ?? [] })),
    { code: 'findings', name: 'Seen and opened', said: (content?.findings ?? []).map(({ title }) => title) },
    { code: 'limits', name: 'Limits', said: text(content?.limits) },
    { code: '', name: 'The whole report', said: [] },
  ]
}

function Comments({ report }: { report: ReportBodyFragment }) {
  const [writing, setWriting] = useState(false)
  const [resolved, resolve] = useMutation(ResolveCommentDocument)
  const parts = partsOf(asReport(report.content))
  const nameOf = (code: string) =>
    parts.find((part) => part.code === code)?.name ?? report.sections.find(({ id }) => id === code)?.title ?? code
  return (
    <>
      <ul className={c.comments}>
        {report.comments.length === 0 && <li className="note">Nothing was said to it yet.</li>}
        {report.comments.map((comment) => (
          <li key={comment.id} id={comment.id} className={comment.resolvedAt ? c.met : undefined}>
            <p className="small note">
              <b>{nameOf(comment.section)}</b> · {comment.by.name}, {shortDay(comment.at)}
            </p>
            {comment.about && <blockquote>{comment.about}</blockquote>}
            <p>{comment.text}</p>
            <p className="small">
              {comment.resolvedAt && (
                <span className="note">
                  met, {comment.resolvedBy}, {shortDay(comment.resolvedAt)}{' '}
                </span>
              )}
              <button
                type="button"
                className="quiet"
                onClick={() =>
                  resolve({ input: { mutation: newId('mut'), id: comment.id, open: Boolean(comment.resolvedAt) } })
                }
              >
                {comment.resolvedAt ? 'open it again' : 'it is met'}
              </button>
            </p>
          </li>
        ))}
      </ul>
      {resolved.error && <Failed error={resolved.error} />}
      <p style={{ margin: '8px 0 12px' }}>
        <Allowed to="writeReport">
          <button type="button" className="plain" onClick={() => setWriting(true)}>
            Say something to it
          </button>
        </Allowed>
      </p>
      {writing && <Say report={report} parts={parts} onClose={() => setWriting(false)} />}
    </>
  )
}

function Say({
  report,
  parts,
  onClose,
}: {
  report: ReportBodyFragment
  parts: ReturnType<typeof partsOf>
  onClose: () => void
}) {
  const [section, setSection] = useState('inShort')
  const [about, setAbout] = useState('')
  const [text, setText] = useState('')
  const [said, say] = useMutation(CommentOnDraftDocument)
  const statements = parts.find(({ code }) => code === section)?.said ?? []
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await say({
      input: { mutation: newId('mut'), id: newId('cmt'), report: report.id, section, about, text: text.trim() },
    })
    if (data) onClose()
  }
  return (
    <Sheet title="Said to the draft" open onClose={onClose}>
      <form className={s.compose} noValidate onSubmit={send}>
        {said.error && <Failed error={said.error} />}
        <SelectField
          label="Part"
          value={section}
          onChange={(event) => {
            setSection(event.target.value)
            setAbout('')
          }}
        >
          {parts.map(({ code, name }) => (
            <option key={code} value={code}>
              {name}
            </option>
          ))}
        </SelectField>
        {statements.length > 0 && (
          <SelectField label="Statement" value={about} onChange={(event) => setAbout(event.target.value)}>
            <option value="">all of it</option>
            {statements.map((statement, k) => (
              <option key={`${k}-${statement}`} value={statement}>
                {statement.length > 90 ? `${statement.slice(0, 89)}…` : statement}
              </option>
            ))}
          </SelectField>
        )}
        <TextArea
          label="What is to be put right or asked"
          rows={4}
          spellCheck
          value={text}
          onChange={(event) => setText(event.target.value)}
          help="It is never printed. While it is open the report cannot be issued."
        />
        <div className="buttons">
          <button type="submit" className="act" disabled={!text.trim() || said.fetching}>
            Say it
          </button>
        </div>
      </form>
    </Sheet>
  )
}

function Issue({ report, open, onClose }: { report: ReportBodyFragment; open: boolean; onClose: () => void }) {
  const [issued, issue] = useMutation(IssueReportDocument)
  return (
    <Sheet title="Issue the report" open={open} onClose={onClose}>
      <p>
        It takes the next number and is frozen: its page and PDF are made from what you see, kept with their hashes, and
        nothing changes them afterwards. A later correction is a numbered addendum.
      </p>
      {issued.error && <Failed error={issued.error} />}
      <div className="buttons" style={{ marginTop: 16 }}>
        <button
          type="button"
          className="act"
          disabled={issued.fetching}
          onClick={async () => {
            const { data } = await issue({ input: { mutation: newId('mut'), id: report.id, version: report.version } })
            if (data) onClose()
          }}
        >
          Issue it
        </button>
        <button type="button" className="plain" onClick={onClose}>
          Not yet
        </button>
      </div>
    </Sheet>
  )
}
