import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { type ReportBodyFragment, WithdrawReportDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { TextArea } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './report.module.css'

/** Takes an issued report back: it stays readable as it was, and says so wherever it is opened. */
export function Withdraw({ report }: { report: ReportBodyFragment }) {
  const [open, setOpen] = useState(false)
  const [reason, setReason] = useState('')
  const [{ fetching, error }, withdraw] = useMutation(WithdrawReportDocument)
  if (report.state !== 'issued' && report.state !== 'amended') return null
  async function send(event: FormEvent) {
    event.preventDefault()
    const input = { mutation: newId('mut'), id: report.id, version: report.version, reason: reason.trim() }
    const { data } = await withdraw({ input })
    if (data) setOpen(false)
  }
  return (
    <Allowed to="issue">
      <p style={{ marginTop: 16 }}>
        <button type="button" className="quiet" onClick={() => setOpen(true)}>
          Withdraw this report
        </button>
      </p>
      <Sheet title="Withdraw this report" open={open} onClose={() => setOpen(false)}>
        <form className={s.compose} noValidate onSubmit={send}>
          {error && <Failed error={error} />}
          <p>
            It keeps its number and every word, and says from then on, to everybody who opens it, that it was withdrawn.
            A mistake in it is put right by an addendum instead.
          </p>
          <TextArea
            label="Why"
            value={reason}
            spellCheck
            onChange={(event) => setReason(event.target.value)}
            help="Told to every reader, and by mail to everybody who holds an open link."
          />
          <div className="buttons">
            <button type="submit" className="act" disabled={!reason.trim() || fetching}>
              Withdraw it
            </button>
          </div>
        </form>
      </Sheet>
    </Allowed>
  )
}
