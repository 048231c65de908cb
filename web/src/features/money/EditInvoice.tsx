import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { read } from '../../graphql/gen'
import {
  EditInvoiceDocument,
  type InvoiceBodyFragment,
  InvoiceRowFragmentDoc,
  type MoneySettingsBodyFragment,
} from '../../graphql/gen/graphql'
import { signedMinor, sums } from '../../model/bill'
import { newId } from '../../model/id'
import { money, typed } from '../../model/money'
import { type Parsed, parseQuantity } from '../../model/number'
import { NumberField, SelectField, TextArea, TextField } from '../../ui/Field'
import s from './money.module.css'

/** A line as it is typed. */
interface Typed {
  key: number
  kind: string
  text: string
  quantity: string
  unit: string
  price: string
  tax: string
}

const kinds = ['work', 'mileage', 'expense', 'deposit taken off', 'abort fee']

/** A draft’s payer, lines and note. Mileage and expenses are lines as any other. */
export function EditInvoice({
  body,
  settings,
  onDone,
}: {
  body: InvoiceBodyFragment
  settings: MoneySettingsBodyFragment
  onDone: () => void
}) {
  const row = read(InvoiceRowFragmentDoc, body)
  const [payer, setPayer] = useState(row.payerName)
  const [address, setAddress] = useState(body.payerAddress)
  const [note, setNote] = useState(body.note)
  const [lines, setLines] = useState<Typed[]>(() =>
    body.lines.map((line, key) => ({
      key,
      kind: line.kind,
      text: line.text,
      quantity: String(line.hundredths / 100),
      unit: line.unit,
      price: typed(line.priceMinor, row.currency),
      tax: String(line.taxPermille / 10),
    })),
  )
  const [shown, setShown] = useState(false)
  const [{ fetching, error }, edit] = useMutation(EditInvoiceDocument)
  const taken = lines.map((line) => taking(line, row.currency))
  const { net, tax } = sums(taken.flatMap((each) => (each.ok ? [each.value] : [])))

  const add = (kind: string) =>
    setLines((now) => [
      ...now,
      {
        key: Math.max(-1, ...now.map(({ key }) => key)) + 1,
        kind,
        text: kind === 'mileage' ? 'Way to the yard and back' : '',
        quantity: '1',
        unit: kind === 'mileage' ? settings.mileageUnit : '',
        price: kind === 'mileage' ? typed(settings.mileageMinor, row.currency) : '',
        tax: String(settings.taxPermille / 10),
      },
    ])
  const put = (key: number, part: Partial<Typed>) =>
    setLines((now) => now.map((line) => (line.key === key ? { ...line, ...part } : line)))

  async function send(event: FormEvent) {
    event.preventDefault()
    setShown(true)
    const good = taken.flatMap((each) => (each.ok ? [each.value] : []))
    if (good.length < taken.length) return
    const { data } = await edit({
      input: {
        mutation: newId('mut'),
        id: row.id,
        version: row.version,
        payerName: payer.trim(),
        payerAddress: address,
        note,
        lines: good,
      },
    })
    if (data) onDone()
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <TextField label="Who pays" value={payer} onChange={(event) => setPayer(event.target.value)} />
      <TextArea label="Address" rows={2} value={address} onChange={(event) => setAddress(event.target.value)} />
      {lines.map((line, n) => {
        const each = taken[n]
        const wrong = shown && each && !each.ok ? each.why : undefined
        return (
          <fieldset key={line.key} className={s.line}>
            <legend>Line {n + 1}</legend>
            <SelectField
              label="Kind"
              value={line.kind}
              onChange={(event) => put(line.key, { kind: event.target.value })}
            >
              {kinds.map((kind) => (
                <option key={kind}>{kind}</option>
              ))}
            </SelectField>
            <TextField
              label="For"
              value={line.text}
              error={wrong}
              onChange={(event) => put(line.key, { text: event.target.value })}
            />
            <NumberField
              label="Quantity"
              value={line.quantity}
              onChange={(event) => put(line.key, { quantity: event.target.value })}
            />
            <TextField
              label="Unit"
              value={line.unit}
              onChange={(event) => put(line.key, { unit: event.target.value })}
            />
            <NumberField
              label="Price"
              unit={row.currency}
              value={line.price}
              onChange={(event) => put(line.key, { price: event.target.value })}
            />
            <NumberField
              label="Tax"
              unit="%"
              value={line.tax}
              onChange={(event) => put(line.key, { tax: event.target.value })}
            />
            <button
              type="button"
              className="plain"
              onClick={() => setLines((now) => now.filter(({ key }) => key !== line.key))}
            >
              Take out<span className="sr"> line {n + 1}</span>
            </button>
          </fieldset>
        )
      })}
      <div className="buttons">
        {['work', 'mileage', 'expense'].map((kind) => (
          <button key={kind} type="button" className="plain" onClick={() => add(kind)}>
            Add {kind === 'expense' ? 'an expense' : kind}
          </button>
        ))}
      </div>
      <TextArea label="Note on the invoice" rows={2} value={note} onChange={(event) => setNote(event.target.value)} />
      <p className={s.sum} role="status">
        {money(net, row.currency)} and {money(tax, row.currency)} tax: <b>{money(net + tax, row.currency)}</b>
      </p>
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Keep the draft
        </button>
      </div>
    </form>
  )
}

/** A typed line as the service takes it. */
function taking(
  line: Typed,
  currency: string,
): Parsed<{
  kind: string
  text: string
  hundredths: number
  unit: string
  priceMinor: number
  taxPermille: number
}> {
  const quantity = parseQuantity(line.quantity, 2)
  const price = signedMinor(line.price, currency)
  const tax = parseQuantity(line.tax || '0', 1)
  if (!line.text.trim()) return { ok: false, why: 'Say what it is for.' }
  if (!quantity.ok) return { ok: false, why: `Quantity: ${quantity.why}` }
  if (!price.ok) return { ok: false, why: `Price: ${price.why}` }
  if (!tax.ok) return { ok: false, why: `Tax: ${tax.why}` }
  return {
    ok: true,
    value: {
      kind: line.kind,
      text: line.text.trim(),
      hundredths: Math.round(quantity.value * 100),
      unit: line.unit.trim(),
      priceMinor: price.value,
      taxPermille: Math.round(tax.value * 10),
    },
  }
}
