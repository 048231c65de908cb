import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { DescribeYardDocument, type YardBodyFragment } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { NumberField, TextArea, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './yards.module.css'

const degrees = (e6: number | null | undefined) => (e6 == null ? '' : String(e6 / 1e6))

/** Millionths of a degree as typed, decimals parted by comma or point; null for nothing, undefined for no number. */
function e6(text: string): number | null | undefined {
  const plain = text.trim().replace(',', '.').replace('−', '-')
  if (!plain) return null
  return /^-?\d{1,3}(\.\d+)?$/.test(plain) ? Math.round(Number(plain) * 1e6) : undefined
}

/** All that is known of a yard, in one form. Keys and gate code are for staff alone. */
export function DescribeYard({
  yard,
  onClose,
  onDone,
}: {
  yard: YardBodyFragment
  onClose: () => void
  onDone: () => void
}) {
  const [said, setSaid] = useState({
    liftHours: yard.liftHours,
    rules: yard.rules,
    keyPlace: yard.keyPlace,
    gateCode: yard.gateCode,
    tidePlace: yard.tidePlace,
    within: String(yard.tideWithinMinutes),
    latitude: degrees(yard.latitudeE6),
    longitude: degrees(yard.longitudeE6),
  })
  const [{ fetching, error }, describe] = useMutation(DescribeYardDocument)
  const put = (field: keyof typeof said) => (event: { target: { value: string } }) =>
    setSaid((now) => ({ ...now, [field]: event.target.value }))
  const place = { latitudeE6: e6(said.latitude), longitudeE6: e6(said.longitude) }
  const within = Number(said.within)
  const noNumber = 'degrees, as 53.2754'

  async function send(event: FormEvent) {
    event.preventDefault()
    const { latitudeE6, longitudeE6 } = place
    if (latitudeE6 === undefined || longitudeE6 === undefined) return
    const { latitude: _, longitude: __, within: ___, ...words } = said
    const { data } = await describe({
      input: {
        mutation: newId('mut'),
        yard: yard.yard.id,
        version: yard.version,
        ...words,
        latitudeE6,
        longitudeE6,
        tideWithinMinutes: Number.isInteger(within) && within > 0 ? within : 120,
      },
    })
    if (!data) return
    onDone()
    onClose()
  }

  return (
    <Sheet title={yard.yard.name} open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        <TextField label="Lifts" value={said.liftHours} onChange={put('liftHours')} help="Days and hours, in words." />
        <TextArea
          label="Rules"
          value={said.rules}
          onChange={put('rules')}
          help="Who may be where, who moves props, ladders, hot work."
        />
        <div className="fields">
          <TextField label="Keys" value={said.keyPlace} onChange={put('keyPlace')} help="For staff alone." />
          <TextField
            label="Gate code"
            value={said.gateCode}
            onChange={put('gateCode')}
            help="For staff alone."
            autoComplete="off"
          />
        </div>
        <div className="fields">
          <TextField
            label="Its tides are those of"
            value={said.tidePlace}
            onChange={put('tidePlace')}
            help="Empty: it lifts at any tide."
          />
          <NumberField label="Lifts within" unit="min of high water" value={said.within} onChange={put('within')} />
        </div>
        <div className="fields">
          <NumberField
            label="Latitude"
            unit="°"
            value={said.latitude}
            onChange={put('latitude')}
            error={place.latitudeE6 === undefined ? noNumber : undefined}
          />
          <NumberField
            label="Longitude"
            unit="°, west below 0"
            value={said.longitude}
            onChange={put('longitude')}
            error={place.longitudeE6 === undefined ? noNumber : undefined}
          />
        </div>
        <p className="small note">Distances between yards of one day are reckoned from these, as the crow flies.</p>
        {error && <Failed error={error} />}
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Keep
          </button>
        </div>
      </form>
    </Sheet>
  )
}
