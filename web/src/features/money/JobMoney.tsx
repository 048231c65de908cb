import { type FormEvent, useState } from 'react'
import { Link, useNavigate } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { useMay } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import {
  DraftInvoiceDocument,
  HoldReportsDocument,
  InvoiceRowFragmentDoc,
  type JobMoneyBodyFragment,
  JobMoneyBodyFragmentDoc,
  JobMoneyDocument,
  type MoneySettingsBodyFragment,
  MoneySettingsBodyFragmentDoc,
  RecordEarlyStartDocument,
} from '../../graphql/gen/graphql'
import { dayIn, longDay, shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { money } from '../../model/money'
import { DateField } from '../../ui/DateField'
import { TextArea, TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import s from './money.module.css'
import { invoiceName, isLate, standing } from './words'

/** What a job's page says of money: what was asked for, what came, whether its reports wait for it. */
export function JobMoney({ job }: { job: string }) {
  const may = useMay('readMoney')
  const [{ data, error }, again] = useQuery({ query: JobMoneyDocument, variables: { job }, pause: !may })
  if (!may) return null
  const held = data?.jobMoney ? read(JobMoneyBodyFragmentDoc, data.jobMoney) : null
  return (
    <section>
      <h2>Money</h2>
      {error && <Failed error={error} again={again} />}
      {held && <Told of={held} />}
    </section>
  )
}

function Told({ of }: { of: JobMoneyBodyFragment }) {
  const viewer = useViewer()
  const writes = useMay('writeMoney')
  const today = dayIn(Date.now(), viewer?.practice.timeZone ?? 'UTC')
  const invoices = of.invoices.map((each) => read(InvoiceRowFragmentDoc, each))
  return (
    <>
      {invoices.length === 0 ? (
        <p className="small note" style={{ borderTop: '1px solid', paddingTop: 7 }}>
          Nothing was asked for yet.
        </p>
      ) : (
        <ol className={s.lines}>
          {invoices.map((i) => (
            <li key={i.id}>
              <Link to={`/invoices/${i.id}`}>
                <b>{invoiceName(i)}</b>
              </Link>
              <span className="num">{money(i.netMinor + i.taxMinor, i.currency)}</span>
              <span className={isLate(i, today) ? `${s.stands} ${s.late}` : s.stands}>
                {standing(i, today)}
                {i.state === 'issued' && (
                  <>
                    {' · '}
                    <a href={`/invoices/${i.id}/invoice.pdf`}>
                      PDF<span className="sr"> of {invoiceName(i)}</span>
                    </a>
                  </>
                )}
              </span>
            </li>
          ))}
        </ol>
      )}
      <Held of={of} writes={writes} />
      {writes && (
        <div className="buttons" style={{ marginTop: 12 }}>
          <NewInvoice of={of} />
        </div>
      )}
      <EarlyStarts of={of} today={today} />
    </>
  )
}

/** Whether links to the job's reports wait for money, and the way to open them unpaid. */
function Held({ of, writes }: { of: JobMoneyBodyFragment; writes: boolean }) {
  const [asking, setAsking] = useState(false)
  const [because, setBecause] = useState('')
  const [wrong, setWrong] = useState('')
  const [{ fetching, error }, hold] = useMutation(HoldReportsDocument)

  async function open(event: FormEvent) {
    event.preventDefault()
    if (!because.trim()) return setWrong('Say why: it is kept with your name.')
    const { data } = await hold({ input: { mutation: newId('mut'), job: of.job, hold: false, because } })
    if (data) setAsking(false)
  }

  return (
    <div style={{ marginTop: 12 }}>
      {of.held ? (
        <Notice
          ways={
            writes && (
              <button type="button" className="plain" onClick={() => setAsking(true)}>
                Open them unpaid
              </button>
            )
          }
        >
          <b>Links to the reports are held</b> until{' '}
          {of.owesMinor > 0 ? `${money(of.owesMinor, of.currency)} is paid` : 'the survey is invoiced and paid'}.
        </Notice>
      ) : of.releasedAt ? (
        <p className="small">
          Reports opened unpaid on {longDay(of.releasedAt)}
          {of.releasedBy && ` by ${of.releasedBy}`}: {of.releasedBecause}
        </p>
      ) : (
        of.releaseOnPayment && <p className="small">Paid: links to the reports are open.</p>
      )}
      {writes && (!of.releaseOnPayment || of.releasedAt) && (
        <p>
          <button
            type="button"
            className="quiet"
            disabled={fetching}
            onClick={() => hold({ input: { mutation: newId('mut'), job: of.job, hold: true } })}
          >
            Hold links to the reports until it is paid
          </button>
        </p>
      )}
      {error && !asking && <Failed error={error} />}
      <Sheet title="Open the reports unpaid" open={asking} onClose={() => setAsking(false)}>
        <form className={s.form} noValidate onSubmit={open}>
          {error && <Failed error={error} />}
          <p>Whoever holds a link reads the report at once. The reason stays with the job.</p>
          <TextField label="Why" value={because} error={wrong} onChange={(event) => setBecause(event.target.value)} />
          <div>
            <button type="submit" className="act" disabled={fetching}>
              Open the reports
            </button>
          </div>
        </form>
      </Sheet>
    </div>
  )
}

const ways = [
  ['invoice', 'Invoice'],
  ['deposit', 'Deposit'],
  ['abort fee', 'Abort fee'],
] as const

/** Begins a draft with what is known: the quote, or the practice's own fee; then opens its page. */
function NewInvoice({ of }: { of: JobMoneyBodyFragment }) {
  const navigate = useNavigate()
  const [ids] = useState(() => ({ invoice: newId('ivc'), deposit: newId('ivc'), 'abort fee': newId('ivc') }))
  const [{ fetching, error }, draft] = useMutation(DraftInvoiceDocument)
  const settings = read(MoneySettingsBodyFragmentDoc, of.settings)
  return (
    <>
      {ways.map(([kind, name]) => (
        <button
          key={kind}
          type="button"
          className="plain"
          disabled={fetching}
          onClick={async () => {
            const { data } = await draft({
              input: {
                mutation: newId('mut'),
                id: ids[kind],
                job: of.job,
                kind,
                lines: firstLines(kind, of, settings),
              },
            })
            if (data) navigate(`/invoices/${ids[kind]}`)
          }}
        >
          {name}
        </button>
      ))}
      {error && <Failed error={error} />}
    </>
  )
}

function firstLines(kind: string, of: JobMoneyBodyFragment, settings: MoneySettingsBodyFragment) {
  if (kind === 'abort fee')
    return [{ kind, text: 'Abort fee', priceMinor: settings.abortFeeMinor, taxPermille: settings.taxPermille }]
  if (kind === 'deposit') return []
  const paid = of.invoices.map((each) => read(InvoiceRowFragmentDoc, each))
  return [
    ...of.quote.map(({ text, amountMinor, taxPermille }) => ({
      kind: 'work',
      text,
      priceMinor: amountMinor,
      taxPermille,
    })),
    ...paid
      .filter((i) => i.kind === 'deposit' && i.state === 'issued')
      .map((i) => ({
        kind: 'deposit taken off',
        text: `Deposit, ${i.number}`,
        priceMinor: -i.netMinor,
        taxPermille: i.netMinor ? Math.round((i.taxMinor / i.netMinor) * 1000) : 0,
      })),
  ]
}

function EarlyStarts({ of, today }: { of: JobMoneyBodyFragment; today: string }) {
  const may = useMay('book')
  const settings = read(MoneySettingsBodyFragmentDoc, of.settings)
  const [open, setOpen] = useState(false)
  const [said, setSaid] = useState({ askedBy: of.payerName, how: '', wording: settings.earlyStartWording })
  const [askedOn, setAskedOn] = useState<string | null>(today)
  const [{ fetching, error }, record] = useMutation(RecordEarlyStartDocument)

  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await record({
      input: { mutation: newId('mut'), id: newId('esr'), job: of.job, askedOn: askedOn ?? today, ...said },
    })
    if (data) setOpen(false)
  }

  return (
    <>
      {of.earlyStart && of.termsAcceptedAt && (
        <p className="small" style={{ marginTop: 8 }}>
          Asked to begin early when the terms were accepted, {longDay(of.termsAcceptedAt)}, by {of.termsAcceptedBy}.
        </p>
      )}
      {of.earlyStarts.map((e) => (
        <p key={e.id} className="small" style={{ marginTop: 8 }}>
          Asked to begin early, {shortDay(e.askedOn)}, by {e.askedBy}
          {e.how && `, ${e.how}`}: “{e.wording}”{e.jurisdiction && ` (${e.jurisdiction})`}
        </p>
      ))}
      {may && (
        <p>
          <button type="button" className="quiet" onClick={() => setOpen(true)}>
            Note a request to begin early
          </button>
        </p>
      )}
      <Sheet title="A request to begin early" open={open} onClose={() => setOpen(false)}>
        <form className={s.form} noValidate onSubmit={send}>
          {error && <Failed error={error} />}
          <p className="note small">
            What a consumer asked expressly, in the words that were said. Whether one is needed, and what it must say,
            is the law’s where you are.
          </p>
          <DateField label="Asked on" value={askedOn} onChange={setAskedOn} />
          <TextField
            label="By"
            value={said.askedBy}
            onChange={(event) => setSaid((now) => ({ ...now, askedBy: event.target.value }))}
          />
          <TextField
            label="How"
            help="by letter, on the telephone, at the yard"
            value={said.how}
            onChange={(event) => setSaid((now) => ({ ...now, how: event.target.value }))}
          />
          <TextArea
            label="The words"
            value={said.wording}
            onChange={(event) => setSaid((now) => ({ ...now, wording: event.target.value }))}
          />
          <div>
            <button type="submit" className="act" disabled={fetching}>
              Keep the request
            </button>
          </div>
        </form>
      </Sheet>
    </>
  )
}
