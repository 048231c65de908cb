import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { ReplaceReportDocument, type ReportBodyFragment } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { plural } from '../../model/words'
import { SelectField, TextArea } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './report.module.css'

/** Puts another issued report of the same boat in this one's place: it stays readable and says so wherever it is opened. */
export function Replace({ report }: { report: ReportBodyFragment }) {
  const [open, setOpen] = useState(false)
  const [by, setBy] = useState('')
  const [because, setBecause] = useState('')
  const [{ fetching, error }, replace] = useMutation(ReplaceReportDocument)
  if (report.state !== 'issued' && report.state !== 'amended') return null
  const choices = report.couldReplace
  const chosen = choices.find(({ id }) => id === by)
  const holders = report.shares.filter(({ revokedAt, until }) => !revokedAt && new Date(until) > new Date()).length
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await replace({
      input: { mutation: newId('mut'), id: report.id, version: report.version, by, because: because.trim() },
    })
    if (data) setOpen(false)
  }
  return (
    <Allowed to="issue">
      <p style={{ marginTop: 16 }}>
        <button type="button" className="quiet" onClick={() => setOpen(true)}>
          Replace this report
        </button>
      </p>
      <Sheet title="Replace this report" open={open} onClose={() => setOpen(false)}>
        {choices.length === 0 ? (
          <p>
            No other report of {report.job.vessel.name} was issued to {report.job.client?.name ?? 'the same client'}.
            Issue the one that is to take its place first; then choose it here.
          </p>
        ) : (
          <form className={s.compose} noValidate onSubmit={send}>
            {error && <Failed error={error} />}
            <SelectField label="Report that takes its place" value={by} onChange={(event) => setBy(event.target.value)}>
              <option value="">choose</option>
              {choices.map(({ id, number, title, issuedAt }) => (
                <option key={id} value={id}>
                  {[number, title, issuedAt && `issued ${shortDay(issuedAt)}`].filter(Boolean).join(', ')}
                </option>
              ))}
            </SelectField>
            <TextArea
              label="Why"
              rows={3}
              spellCheck
              value={because}
              onChange={(event) => setBecause(event.target.value)}
              help="Every reader of the old report is told this."
            />
            <section>
              <h3>What its readers are told</h3>
              <p>
                Report {chosen?.number ?? '…'} has taken the place of this one. {because.trim()}
              </p>
              <p className="small note">
                It stands on its page, in the client’s account, before the page by a link, and where its PDF is checked.{' '}
                {holders === 0
                  ? 'Nobody holds an open link.'
                  : `${plural(holders, 'person', 'people')} with an open link ${holders === 1 ? 'gets' : 'get'} it by mail.`}{' '}
                The report itself stays as it was issued.
              </p>
            </section>
            <div className="buttons">
              <button type="submit" className="act" disabled={!by || !because.trim() || fetching}>
                Replace it
              </button>
            </div>
          </form>
        )}
      </Sheet>
    </Allowed>
  )
}
