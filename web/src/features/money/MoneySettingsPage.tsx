import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { useMay } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { read } from '../../graphql/gen'
import {
  EditMoneySettingsDocument,
  type MoneySettingsBodyFragment,
  MoneySettingsBodyFragmentDoc,
  MoneySettingsDocument,
  SettingsPageDocument,
} from '../../graphql/gen/graphql'
import { signedMinor } from '../../model/bill'
import { newId } from '../../model/id'
import { typed } from '../../model/money'
import { parseQuantity } from '../../model/number'
import { NumberField, SelectField, TextArea, TextField } from '../../ui/Field'
import { Running } from '../../ui/Running'
import s from './money.module.css'
import { useMoneyTabs } from './tabs'

/** How the practice asks for money: tax, days, mileage, numbers, and the words that are its own. */
export default function MoneySettingsPage() {
  const [{ data, error }, again] = useQuery({ query: MoneySettingsDocument })
  const [{ data: home }] = useQuery({ query: SettingsPageDocument })
  const tabs = useMoneyTabs()
  const [told, setTold] = useState(false)
  const kept = data ? read(MoneySettingsBodyFragmentDoc, data.moneySettings) : null
  return (
    <>
      <Running title="Money" page="Money settings" tabsLabel="Money" tabs={tabs}>
        how the practice asks for it
      </Running>
      <main id="main" className="page-body">
        <Answer data={kept && home ? kept : null} error={error} again={again}>
          {(kept) => (
            <Form
              key={kept.version}
              kept={kept}
              currency={home?.viewer.practice.currency ?? 'EUR'}
              told={told}
              onTold={setTold}
            />
          )}
        </Answer>
      </main>
    </>
  )
}

function Form({
  kept,
  currency,
  told,
  onTold,
}: {
  kept: MoneySettingsBodyFragment
  currency: string
  told: boolean
  onTold: (told: boolean) => void
}) {
  const may = useMay('managePractice')
  const [said, setSaid] = useState({
    tax: String(kept.taxPermille / 10),
    mileage: typed(kept.mileageMinor, currency),
    mileageUnit: kept.mileageUnit,
    abort: typed(kept.abortFeeMinor, currency),
    days: String(kept.paymentDays),
    numberPrefix: kept.numberPrefix,
    foot: kept.foot,
    earlyStartWording: kept.earlyStartWording,
    earlyStartJurisdiction: kept.earlyStartJurisdiction,
  })
  const [shown, setShown] = useState(false)
  const [{ fetching, error }, edit] = useMutation(EditMoneySettingsDocument)
  const put = (part: keyof typeof said) => (event: { target: { value: string } }) =>
    setSaid((now) => ({ ...now, [part]: event.target.value }))
  const tax = parseQuantity(said.tax || '0', 1)
  const mileage = signedMinor(said.mileage || '0', currency)
  const abort = signedMinor(said.abort || '0', currency)
  const days = parseQuantity(said.days, 0)
  const at = (part: { ok: boolean; why?: string }) => (shown && !part.ok ? part.why : undefined)

  async function send(event: FormEvent) {
    event.preventDefault()
    setShown(true)
    if (!tax.ok || !mileage.ok || !abort.ok || !days.ok) return
    const { mileageUnit, numberPrefix, foot, earlyStartWording, earlyStartJurisdiction } = said
    const { data } = await edit({
      input: {
        mutation: newId('mut'),
        version: kept.version,
        taxPermille: Math.round(tax.value * 10),
        mileageMinor: mileage.value,
        abortFeeMinor: abort.value,
        paymentDays: days.value,
        mileageUnit,
        numberPrefix,
        foot,
        earlyStartWording,
        earlyStartJurisdiction,
      },
    })
    onTold(Boolean(data))
  }

  return (
    <form className={`${s.form} measure`} noValidate onSubmit={send} onChange={() => onTold(false)}>
      {error && <Failed error={error} />}
      <p className="note">
        Common practice, no source: thirty days, no tax, numbers that begin with INV-. What an invoice must say, and
        which tax, is the law’s where you are.
      </p>
      <fieldset disabled={!may} className={s.form} style={{ border: 0, padding: 0 }}>
        <div className="fields">
          <NumberField label="Tax" unit="%" value={said.tax} error={at(tax)} onChange={put('tax')} />
          <NumberField label="Due within" unit="days" value={said.days} error={at(days)} onChange={put('days')} />
          <NumberField
            label="Mileage"
            unit={currency}
            value={said.mileage}
            error={at(mileage)}
            onChange={put('mileage')}
          />
          <SelectField label="Mileage is for one" value={said.mileageUnit} onChange={put('mileageUnit')}>
            <option>km</option>
            <option>mile</option>
          </SelectField>
          <NumberField label="Abort fee" unit={currency} value={said.abort} error={at(abort)} onChange={put('abort')} />
          <TextField
            label="Before the number"
            value={said.numberPrefix}
            onChange={put('numberPrefix')}
            help={`Such as ${said.numberPrefix}${new Date().getFullYear()}-0001; each number follows the last, without a gap.`}
          />
        </div>
        <TextArea
          label="Foot of an invoice"
          value={said.foot}
          onChange={put('foot')}
          help="Bank, tax number: what it must carry."
        />
        <TextArea
          label="A consumer’s request to begin early"
          value={said.earlyStartWording}
          onChange={put('earlyStartWording')}
          help="The words that a client ticks with the terms, or that you note by hand. Empty: the page of terms asks nothing of the kind."
        />
        <TextField
          label="Law it is made under"
          value={said.earlyStartJurisdiction}
          onChange={put('earlyStartJurisdiction')}
        />
        <div className="buttons">
          <button type="submit" className="act" disabled={!may || fetching}>
            Keep the settings
          </button>
          {told && <span role="status">Kept.</span>}
        </div>
      </fieldset>
    </form>
  )
}
