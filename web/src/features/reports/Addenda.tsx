import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { IssueAddendumDocument, type ReportBodyFragment, WriteAddendumDocument } from '../../graphql/gen/graphql'
import { longDay } from '../../model/dates'
import { newId } from '../../model/id'
import { bytes } from '../../model/words'
import { TextArea } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { forgetTyped, useTyped } from '../../ui/useTyped'
import s from './report.module.css'

type Addendum = ReportBodyFragment['addenda'][number]

/** What adds to an issued report: numbered, issued once, said wherever the report is opened. */
export function Addenda({ report }: { report: ReportBodyFragment }) {
  const [writing, write] = useState<Addendum | 'new' | null>(null)
  const open = report.state === 'issued' || report.state === 'amended'
  if (report.addenda.length === 0 && !open) return null
  return (
    <>
      <h2>Addenda</h2>
      <ul className={s.links}>
        {report.addenda.length === 0 && <li className="note">None.</li>}
        {report.addenda.map((addendum) => (
          <li key={addendum.id}>
            <b>Addendum {addendum.number}</b>
            {addendum.issuedAt ? `, ${longDay(addendum.issuedAt)}` : `, ${addendum.state}`}
            {addendum.requiredBecause && (
              <>
                <br />
                <span className="note">{addendum.requiredBecause}</span>
              </>
            )}
            {addendum.text && (
              <>
                <br />
                {addendum.text}
              </>
            )}
            {addendum.pageSha256 && (
              <>
                <br />
                <a className={s.reach} href={`/reports/${report.id}/addenda/${addendum.number}/page`}>
                  Read addendum {addendum.number}
                </a>
              </>
            )}
            {addendum.pdfBytes && (
              <>
                <br />
                <a className={s.reach} href={`/reports/${report.id}/addenda/${addendum.number}`}>
                  Addendum {addendum.number} as PDF
                </a>{' '}
                <span className="note">{bytes(addendum.pdfBytes)}</span>
              </>
            )}
            {open && addendum.state !== 'issued' && (
              <Allowed to="writeReport">
                <br />
                <button type="button" className="quiet" onClick={() => write(addendum)}>
                  {addendum.state === 'required' ? 'write it' : 'go on writing'}
                </button>
              </Allowed>
            )}
          </li>
        ))}
      </ul>
      {open && (
        <p style={{ marginTop: 8 }}>
          <Allowed to="writeReport">
            <button type="button" className="plain" onClick={() => write('new')}>
              Write an addendum
            </button>
          </Allowed>
        </p>
      )}
      {writing && (
        <Write
          report={report.id}
          addendum={writing === 'new' ? null : writing}
          holders={report.shares.filter(({ revokedAt }) => !revokedAt).length}
          onClose={() => write(null)}
        />
      )}
    </>
  )
}

function Write({
  report,
  addendum,
  holders,
  onClose,
}: {
  report: string
  addendum: Addendum | null
  holders: number
  onClose: () => void
}) {
  const [id] = useState(() => addendum?.id ?? newId('add'))
  const [version, setVersion] = useState(addendum?.version ?? 0)
  const typedAs = `addendum/${report}/${addendum ? `${addendum.id}.${addendum.version}` : ''}`
  const [text, setText] = useTyped(typedAs, addendum?.text ?? '')
  const [written, write] = useMutation(WriteAddendumDocument)
  const [issued, issue] = useMutation(IssueAddendumDocument)
  const error = written.error ?? issued.error

  /** Keeps the words and answers the version they are kept under; null where they were refused. */
  async function keep(): Promise<number | null> {
    const { data } = await write({ input: { mutation: newId('mut'), id, report, version, text: text.trim() } })
    if (!data) return null
    forgetTyped(typedAs)
    setVersion(version + 1)
    return version + 1
  }

  async function send(event: FormEvent) {
    event.preventDefault()
    if ((await keep()) !== null) onClose()
  }

  async function give() {
    const kept = await keep()
    if (kept === null) return
    const { data } = await issue({ input: { mutation: newId('mut'), id, version: kept } })
    if (data) onClose()
  }

  return (
    <Sheet title="An addendum" open onClose={onClose}>
      <form className={s.compose} noValidate onSubmit={send}>
        {error && <Failed error={error} />}
        {addendum?.requiredBecause && <p className="note">{addendum.requiredBecause}</p>}
        <TextArea
          label="What is added or put right"
          rows={6}
          value={text}
          onChange={(event) => setText(event.target.value)}
          help={`Once issued it is never changed${holders > 0 ? ', and everybody who holds an open link is told' : ''}. The report itself stays as it is.`}
        />
        <div className="buttons">
          <button type="submit" className="plain" disabled={written.fetching || issued.fetching}>
            Keep as a draft
          </button>
          <Allowed to="issue">
            <button
              type="button"
              className="act"
              disabled={!text.trim() || written.fetching || issued.fetching}
              onClick={give}
            >
              Issue it
            </button>
          </Allowed>
        </div>
      </form>
    </Sheet>
  )
}
