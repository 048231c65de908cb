import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { useMay } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { SetQuoteDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { minorOf, money, taxOf, typed } from '../../model/money'
import { parseQuantity } from '../../model/number'
import { NumberField, TextField } from '../../ui/Field'
import type { Enquiry } from './EnquiryPage'
import s from './engagements.module.css'
import { QuoteTable } from './QuoteTable'

interface Row {
  key: string
  text: string
  amount: string
  tax: string
}

const blank = (tax: string): Row => ({ key: newId('mut'), text: '', amount: '', tax })

/** What it costs, line by line, in whole minor units; once accepted it stays as the client saw it. */
export function Quote({ e }: { e: Enquiry }) {
  const may = useMay('book')
  const open = may && !e.job && !e.termsAcceptedAt && e.stage !== 'declined' && e.stage !== 'closed'
  const [editing, setEditing] = useState(open && !e.quote?.length)
  return (
    <section id="quote">
      <h2>Quote</h2>
      {open && editing ? (
        <Edit e={e} onDone={() => setEditing(false)} />
      ) : (
        <>
          <Lines e={e} />
          {open && (
            <div style={{ marginTop: 12 }}>
              <button type="button" className="plain" onClick={() => setEditing(true)}>
                {e.quote?.length ? 'Change the quote' : 'Write the quote'}
              </button>
            </div>
          )}
        </>
      )}
    </section>
  )
}

function Lines({ e }: { e: Enquiry }) {
  if (!e.quote) return <p className="note ruled">Your role here does not read what it costs.</p>
  if (e.quote.length === 0) return <p className="note ruled">None yet.</p>
  const [net, tax] = [e.netMinor ?? 0, e.taxMinor ?? 0]
  return (
    <QuoteTable
      caption="Quote"
      lines={e.quote}
      currency={e.currency}
      last={{
        name: 'To pay',
        amount: ['before tax', net],
        tax: ['with tax', net + tax],
        bold: true,
      }}
    />
  )
}

function Edit({ e, onDone }: { e: Enquiry; onDone: () => void }) {
  const [rows, setRows] = useState<Row[]>(() =>
    e.quote?.length
      ? e.quote.map((l) => ({
          key: newId('mut'),
          text: l.text,
          amount: typed(l.amountMinor, e.currency),
          tax: String(l.taxPermille / 10),
        }))
      : [blank('')],
  )
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, set] = useMutation(SetQuoteDocument)
  const put = (key: string, change: Partial<Row>) =>
    setRows((now) => now.map((row) => (row.key === key ? { ...row, ...change } : row)))
  const read = rows.map((row) => ({
    row,
    amount: minorOf(row.amount, e.currency),
    tax: row.tax.trim() === '' ? ({ ok: true, value: 0 } as const) : parseQuantity(row.tax, 1),
  }))
  const good = read.flatMap(({ amount, tax }) =>
    amount.ok && tax.ok ? [[amount.value, Math.round(tax.value * 10)] as const] : [],
  )
  const net = good.reduce((sum, [minor]) => sum + minor, 0)
  const tax = good.reduce((sum, [minor, permille]) => sum + taxOf(minor, permille), 0)

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (good.length < rows.length || rows.some(({ text }) => !text.trim())) return
    const { data } = await set({
      input: {
        mutation: newId('mut'),
        engagement: e.id,
        version: e.version,
        lines: rows.map(({ text }, k) => ({
          text: text.trim(),
          amountMinor: good[k]?.[0] ?? 0,
          taxPermille: good[k]?.[1] ?? 0,
        })),
      },
    })
    if (data) onDone()
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      {read.map(({ row, amount, tax }, k) => (
        <fieldset key={row.key} className={s.line}>
          <legend className="sr">Line {k + 1}</legend>
          <TextField
            label="For"
            value={row.text}
            placeholder="two visits, wet and dry"
            error={tried && !row.text.trim() ? 'say what for' : undefined}
            onChange={(event) => put(row.key, { text: event.target.value })}
          />
          <NumberField
            label="Before tax"
            unit={e.currency}
            value={row.amount}
            error={tried && !amount.ok ? amount.why : undefined}
            onChange={(event) => put(row.key, { amount: event.target.value })}
          />
          <NumberField
            label="Tax"
            unit="%"
            value={row.tax}
            placeholder="0"
            error={tried && !tax.ok ? tax.why : undefined}
            onChange={(event) => put(row.key, { tax: event.target.value })}
          />
          {rows.length > 1 && (
            <button
              type="button"
              className="quiet"
              onClick={() => setRows((now) => now.filter(({ key }) => key !== row.key))}
            >
              Take out<span className="sr"> line {k + 1}</span>
            </button>
          )}
        </fieldset>
      ))}
      <p role="status">
        {money(net, e.currency)} before tax, {money(tax, e.currency)} tax, to pay <b>{money(net + tax, e.currency)}</b>.
      </p>
      <div className="buttons">
        <button type="submit" className="plain" disabled={fetching}>
          Keep the quote
        </button>
        <button
          type="button"
          className="quiet"
          onClick={() => setRows((now) => [...now, blank(now.at(-1)?.tax ?? '')])}
        >
          Another line
        </button>
      </div>
    </form>
  )
}
