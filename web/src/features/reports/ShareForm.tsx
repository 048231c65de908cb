import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { type ReportBodyFragment, ShareReportDocument, ShareWithDocument } from '../../graphql/gen/graphql'
import { dayIn, dayNumber, dayOf, here, instantOf } from '../../model/dates'
import { newId } from '../../model/id'
import { DateField } from '../../ui/DateField'
import { TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import s from './report.module.css'

const halfYear = () => dayOf(dayNumber(dayIn(Date.now(), here())) + 182)

/** A link for one named person, for a purpose, until a day; it can be taken back. */
export function ShareForm({
  report,
  open,
  onClose,
}: {
  report: ReportBodyFragment
  open: boolean
  onClose: () => void
}) {
  const [name, setName] = useState(report.job.client?.name ?? '')
  const [typed, setEmail] = useState<string | null>(null)
  const [purpose, setPurpose] = useState('')
  const [until, setUntil] = useState<string | null>(halfYear)
  const [asksCode, setAsksCode] = useState(true)
  const [link, setLink] = useState<string | null>(null)
  const client = report.job.client
  const toClient = client?.name === name.trim()
  const [{ data: known }] = useQuery({
    query: ShareWithDocument,
    variables: { party: client?.id ?? '' },
    pause: !open || !client,
  })
  const email = typed ?? (toClient ? (known?.node?.__typename === 'Party' ? known.node.email : '') : '')
  const [{ fetching, error }, share] = useMutation(ShareReportDocument)
  const fault = error?.graphQLErrors[0]
  const at = (field: string) => (fault?.extensions?.field === field ? fault.message : undefined)
  async function send(event: FormEvent) {
    event.preventDefault()
    if (!until) return
    const { data } = await share({
      input: {
        mutation: newId('mut'),
        id: newId('shr'),
        report: report.id,
        party: toClient ? (client?.id ?? null) : null,
        name: name.trim(),
        email: email.trim(),
        purpose: purpose.trim(),
        asksCode,
        until: instantOf(until, '23:59', here()),
      },
    })
    if (data) setLink(data.shareReport.link ?? '')
  }
  function close() {
    setLink(null)
    onClose()
  }
  return (
    <Sheet title="Send a link" open={open} onClose={close}>
      {link !== null ? (
        <>
          <Notice>A letter with the link is on its way to {email}.</Notice>
          {link && (
            <p className="small" style={{ marginTop: 12, overflowWrap: 'anywhere' }}>
              The link itself, shown this once: <a href={link}>{link}</a>
            </p>
          )}
          <p style={{ marginTop: 16 }}>
            <button type="button" className="act" onClick={close}>
              Good
            </button>
          </p>
        </>
      ) : (
        <form className={s.form} noValidate onSubmit={send}>
          {error && !fault?.extensions?.field && <Failed error={error} />}
          <TextField
            label="For"
            value={name}
            onChange={(event) => setName(event.target.value)}
            error={at('name')}
            help="A person by name: the page greets them, and each opening is noted."
          />
          <TextField
            label="E-mail"
            type="email"
            value={email}
            onChange={(event) => setEmail(event.target.value)}
            error={at('email')}
            help={toClient && email && typed === null ? 'As it is kept with the client.' : undefined}
          />
          <TextField
            label="Purpose"
            placeholder="owner; insurer’s renewal"
            value={purpose}
            onChange={(event) => setPurpose(event.target.value)}
            error={at('purpose')}
          />
          <DateField label="Open until" value={until} onChange={setUntil} />
          <Tick checked={asksCode} onChange={setAsksCode}>
            A code by mail before the report opens
          </Tick>
          <div>
            <button type="submit" className="act" disabled={fetching}>
              Send it
            </button>
          </div>
        </form>
      )}
    </Sheet>
  )
}
