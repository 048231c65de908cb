import { type FormEvent, useState } from 'react'
import { useNavigate, useParams } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { useMay } from '../../app/Allowed'
import { Failed, NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import {
  CreditInvoiceDocument,
  DropInvoiceDocument,
  type InvoiceBodyFragment,
  InvoiceBodyFragmentDoc,
  InvoicePageDocument,
  InvoiceRowFragmentDoc,
  IssueInvoiceDocument,
  type MoneySettingsBodyFragment,
  MoneySettingsBodyFragmentDoc,
  RecordPaymentDocument,
} from '../../graphql/gen/graphql'
import { signedMinor } from '../../model/bill'
import { dayIn, longDay, shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { money, typed } from '../../model/money'
import { capital } from '../../model/words'
import { DateField } from '../../ui/DateField'
import { NumberField, TextArea, TextField } from '../../ui/Field'
import { Running } from '../../ui/Running'
import { Sheet } from '../../ui/Sheet'
import { EditInvoice } from './EditInvoice'
import s from './money.module.css'
import { invoiceName, standing, taxRate } from './words'

/** One invoice as it is printed, with what may still be done to it beside it. */
export default function InvoicePage() {
  const { id = '' } = useParams()
  const viewer = useViewer()
  const [{ data, error }, again] = useQuery({ query: InvoicePageDocument, variables: { id } })
  if (data && !data.invoice) return <NotFound />
  const body = data?.invoice ? read(InvoiceBodyFragmentDoc, data.invoice) : null
  const row = body ? read(InvoiceRowFragmentDoc, body) : null
  const today = dayIn(Date.now(), viewer?.practice.timeZone ?? 'UTC')
  return (
    <>
      <Running
        title={row ? invoiceName(row) : 'Invoice'}
        tabsLabel="Money"
        tabs={[
          ...(row ? [{ to: `/jobs/${row.job}`, name: `Job ${row.jobNumber}` }] : []),
          { to: '/money', name: 'All invoices' },
        ]}
      >
        {row && `${row.vesselName}, for ${row.payerName || 'nobody yet'}: ${standing(row, today)}`}
      </Running>
      <main id="main" className="page-body">
        <Answer data={body} error={error} again={again}>
          {(body) => (
            <div className={s.two}>
              <Paper body={body} />
              <Acts
                key={read(InvoiceRowFragmentDoc, body).version}
                body={body}
                settings={data ? read(MoneySettingsBodyFragmentDoc, data.moneySettings) : null}
                today={today}
              />
            </div>
          )}
        </Answer>
      </main>
    </>
  )
}

function Paper({ body }: { body: InvoiceBodyFragment }) {
  const row = read(InvoiceRowFragmentDoc, body)
  const viewer = useViewer()
  const sum = (minor: number) => money(minor, row.currency)
  const total = row.netMinor + row.taxMinor
  const issued = row.state === 'issued'
  return (
    <article className={s.paper} aria-label={invoiceName(row)}>
      <header className={s.head}>
        <div>
          <p className={s.practice}>{body.printed.practiceName || viewer?.practice.name}</p>
          <p className={`small ${s.lined}`}>
            {[body.printed.address, body.printed.phone, body.printed.email].filter(Boolean).join('\n')}
          </p>
        </div>
        <div>
          <h2>{capital(row.kind)}</h2>
          {issued ? (
            <dl className="facts">
              <dt>number</dt>
              <dd>{row.number}</dd>
              <dt>date</dt>
              <dd>{row.dated && longDay(row.dated)}</dd>
              {row.kind === 'credit note' ? (
                <>
                  <dt>takes back</dt>
                  <dd>{row.creditsNumber}</dd>
                </>
              ) : (
                <>
                  <dt>due</dt>
                  <dd>{row.dueOn && longDay(row.dueOn)}</dd>
                </>
              )}
            </dl>
          ) : (
            <p className={s.draft}>Draft, not issued: it has no number and nobody owes it.</p>
          )}
        </div>
      </header>
      <div className={s.parties}>
        <p className={s.lined}>
          <b>{row.payerName || 'Nobody yet'}</b>
          {body.payerAddress && `\n${body.payerAddress}`}
        </p>
        <p className="small">
          {row.vesselName}, job {row.jobNumber}
        </p>
      </div>
      <table className="folds">
        <caption className="sr">What it is for</caption>
        <thead>
          <tr>
            <th scope="col">for</th>
            <th scope="col" className="num">
              quantity
            </th>
            <th scope="col" className="num">
              price
            </th>
            <th scope="col" className="num">
              tax
            </th>
            <th scope="col" className="num">
              before tax
            </th>
          </tr>
        </thead>
        <tbody>
          {body.lines.map((line, k) => (
            <tr key={k}>
              <th scope="row">{line.text}</th>
              <td className="num" data-head="quantity">
                {line.hundredths / 100} {line.unit}
              </td>
              <td className="num" data-head="price">
                {sum(line.priceMinor)}
              </td>
              <td className="num" data-head="tax">
                {taxRate(line.taxPermille)}
              </td>
              <td className="num" data-head="before tax">
                {sum(line.netMinor)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <table className={s.totals}>
        <caption className="sr">What it comes to</caption>
        <tbody>
          <Sum name="Before tax">{sum(row.netMinor)}</Sum>
          <Sum name="Tax">{sum(row.taxMinor)}</Sum>
          {issued && body.creditedMinor !== 0 && <Sum name="Taken back">{sum(body.creditedMinor)}</Sum>}
          {issued && body.paidMinor !== 0 && <Sum name="Paid">{sum(-body.paidMinor)}</Sum>}
          <Sum name={total < 0 ? 'Taken back in all' : 'To pay'}>
            {sum(row.kind === 'credit note' || !issued ? total : row.owedMinor)}
          </Sum>
        </tbody>
      </table>
      {body.note && <p className={s.lined}>{body.note}</p>}
      {body.printed.foot && <p className={`small ${s.lined}`}>{body.printed.foot}</p>}
      {(body.printed.invented || viewer?.practice.invented) && (
        <p className="invented">An invented practice, boat and people: nobody owes anything.</p>
      )}
    </article>
  )
}

function Sum({ name, children }: { name: string; children: string }) {
  return (
    <tr>
      <th scope="row">{name}</th>
      <td className="num">{children}</td>
    </tr>
  )
}

/** What may still be done: everything to a draft; payments and a credit note to what was issued. */
function Acts({
  body,
  settings,
  today,
}: {
  body: InvoiceBodyFragment
  settings: MoneySettingsBodyFragment | null
  today: string
}) {
  const row = read(InvoiceRowFragmentDoc, body)
  const navigate = useNavigate()
  const may = useMay('writeMoney')
  const [sheet, setSheet] = useState<'edit' | 'pay' | 'credit' | null>(null)
  const [issuing, issue] = useMutation(IssueInvoiceDocument)
  const [dropping, drop] = useMutation(DropInvoiceDocument)
  const error = issuing.error ?? dropping.error
  const shut = () => setSheet(null)
  return (
    <aside className={s.acts}>
      {error && <Failed error={error} />}
      {row.state === 'draft' && may && (
        <>
          <p className="small note">
            Issued, it takes the next number and today’s date, and nothing of it changes again.
          </p>
          <div className="buttons" style={{ margin: '12px 0' }}>
            <button
              type="button"
              className="act"
              disabled={issuing.fetching}
              onClick={() => issue({ input: { mutation: newId('mut'), id: row.id, version: row.version } })}
            >
              Issue it
            </button>
            <button type="button" className="plain" onClick={() => setSheet('edit')}>
              Change the draft
            </button>
            <button
              type="button"
              className="plain"
              disabled={dropping.fetching}
              onClick={async () => {
                const { data } = await drop({ input: { mutation: newId('mut'), id: row.id, version: row.version } })
                if (data) navigate(`/jobs/${row.job}`)
              }}
            >
              Drop it
            </button>
          </div>
        </>
      )}
      {row.state === 'issued' && (
        <div className="buttons" style={{ marginBottom: 12 }}>
          {may && row.kind !== 'credit note' && (
            <button type="button" className={row.owedMinor > 0 ? 'act' : 'plain'} onClick={() => setSheet('pay')}>
              Note a payment
            </button>
          )}
          <a className="plain" href={`/invoices/${row.id}/invoice.pdf`}>
            Download PDF
          </a>
          <button type="button" className="plain" onClick={() => window.print()}>
            Print
          </button>
          {may && row.kind !== 'credit note' && body.creditedMinor === 0 && (
            <button type="button" className="plain" onClick={() => setSheet('credit')}>
              Take it back
            </button>
          )}
        </div>
      )}
      {row.state === 'issued' && row.kind !== 'credit note' && <Payments body={body} />}
      {settings && (
        <Sheet wide title="The draft" open={sheet === 'edit'} onClose={shut}>
          <EditInvoice body={body} settings={settings} onDone={shut} />
        </Sheet>
      )}
      <Sheet title="Note a payment" open={sheet === 'pay'} onClose={shut}>
        <Pay body={body} today={today} onDone={shut} />
      </Sheet>
      <Sheet title="Take it back" open={sheet === 'credit'} onClose={shut}>
        <Credit body={body} onDone={(id) => navigate(`/invoices/${id}`)} />
      </Sheet>
    </aside>
  )
}

function Payments({ body }: { body: InvoiceBodyFragment }) {
  const { currency } = read(InvoiceRowFragmentDoc, body)
  return (
    <section>
      <h2>Payments</h2>
      {body.payments.length === 0 ? (
        <p className="small note">None came yet.</p>
      ) : (
        <ol className={s.lines}>
          {body.payments.map((p) => (
            <li key={p.id}>
              <span>{shortDay(p.paidOn)}</span>
              <span className="num">{money(p.amountMinor, currency)}</span>
              <span className={s.stands}>{p.how}</span>
            </li>
          ))}
        </ol>
      )}
    </section>
  )
}

function Pay({ body, today, onDone }: { body: InvoiceBodyFragment; today: string; onDone: () => void }) {
  const row = read(InvoiceRowFragmentDoc, body)
  const [amount, setAmount] = useState(typed(row.owedMinor, row.currency))
  const [paidOn, setPaidOn] = useState<string | null>(today)
  const [how, setHow] = useState('bank transfer')
  const [wrong, setWrong] = useState('')
  const [{ fetching, error }, record] = useMutation(RecordPaymentDocument)

  async function send(event: FormEvent) {
    event.preventDefault()
    const parsed = signedMinor(amount, row.currency)
    if (!parsed.ok || !paidOn) return setWrong(parsed.ok ? 'Give the day.' : parsed.why)
    const { data } = await record({
      input: { mutation: newId('mut'), id: newId('pay'), invoice: row.id, amountMinor: parsed.value, paidOn, how },
    })
    if (data) onDone()
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <NumberField
        label="Amount"
        unit={row.currency}
        value={amount}
        error={wrong}
        help="Below zero it was paid back; a slip is put right the same way."
        onChange={(event) => setAmount(event.target.value)}
      />
      <DateField label="Paid on" value={paidOn} onChange={setPaidOn} />
      <TextField label="How" value={how} onChange={(event) => setHow(event.target.value)} />
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Keep the payment
        </button>
      </div>
    </form>
  )
}

function Credit({ body, onDone }: { body: InvoiceBodyFragment; onDone: (id: string) => void }) {
  const row = read(InvoiceRowFragmentDoc, body)
  const [id] = useState(() => newId('ivc'))
  const [note, setNote] = useState('')
  const [wrong, setWrong] = useState('')
  const [{ fetching, error }, credit] = useMutation(CreditInvoiceDocument)

  async function send(event: FormEvent) {
    event.preventDefault()
    if (!note.trim()) return setWrong('Say why: it stands on the credit note.')
    const { data } = await credit({ input: { mutation: newId('mut'), id, invoice: row.id, note } })
    if (data) onDone(id)
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <p>
        {row.number} stays as it was issued. A credit note with a number of its own takes back{' '}
        {money(row.netMinor + row.taxMinor, row.currency)}.
      </p>
      <TextArea label="Why" value={note} error={wrong} onChange={(event) => setNote(event.target.value)} />
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Issue the credit note
        </button>
      </div>
    </form>
  )
}
