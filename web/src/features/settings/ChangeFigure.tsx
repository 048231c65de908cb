import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { type FigureRowFragment, SetDiaryFigureDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { parseQuantity } from '../../model/number'
import { capital } from '../../model/words'
import { NumberField, SelectField, TextArea } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './settings.module.css'

const hoursADay = 24

/** A wait begins after hours or after whole days, and ends after whole days. */
const inDays = (figure: FigureRowFragment) => figure.unit === 'hours' && figure.window

/** A figure of the practice's own in the place of the trade's, with its reason; or the trade's again. */
export function ChangeFigure({ figure, onClose }: { figure: FigureRowFragment; onClose: () => void }) {
  const wait = inDays(figure)
  const [first = 0, last = first] = figure.bounds
  const [unit, setUnit] = useState<'days' | 'hours'>(wait && first % hoursADay !== 0 ? 'hours' : 'days')
  const [from, setFrom] = useState(String(wait && unit === 'days' ? first / hoursADay : first))
  const [to, setTo] = useState(String(wait ? last / hoursADay : last))
  const [reason, setReason] = useState('')
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, set] = useMutation(SetDiaryFigureDocument)
  const fault = error?.graphQLErrors[0]
  const at = (field: string) => (fault?.extensions?.field === field ? fault.message : undefined)
  const read = [from, to].map((text) => parseQuantity(text, 0))
  const [a, b] = read
  const wrong = (k: 0 | 1) => {
    const one = read[k]
    return tried && one && !one.ok ? one.why : undefined
  }

  async function keep(bounds: number[] | null) {
    const { data } = await set({
      input: {
        mutation: newId('mut'),
        id: newId('pfg'),
        code: figure.code,
        was: figure.was,
        bounds,
        reason: reason.trim(),
      },
    })
    if (data) onClose()
  }
  function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!b?.ok || !reason.trim() || (figure.window && !a?.ok)) return
    const begins = a?.ok ? a.value * (wait && unit === 'days' ? hoursADay : 1) : 0
    keep(figure.window ? [begins, wait ? b.value * hoursADay : b.value] : [b.value])
  }
  const noReason = tried && !reason.trim() ? 'Say why: it stays with the figure, with your name.' : undefined

  return (
    <Sheet title={capital(figure.what)} open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {error && !['bounds', 'reason'].includes(String(fault?.extensions?.field)) && <Failed error={error} />}
        <p className="note">
          The trade’s: {figure.trade} ({figure.tag}). {figure.reason}
        </p>
        <div className="fields">
          {figure.window && (
            <NumberField
              label="From"
              unit={wait ? unit : figure.unit}
              value={from}
              error={wrong(0)}
              onChange={(event) => setFrom(event.target.value)}
            />
          )}
          {wait && (
            <SelectField label="Begins after" value={unit} onChange={(event) => setUnit(event.target.value as 'days')}>
              <option value="days">whole days</option>
              <option value="hours">hours</option>
            </SelectField>
          )}
          <NumberField
            label={figure.window ? 'To' : 'How much'}
            unit={wait ? 'days' : figure.unit}
            value={to}
            error={wrong(1) ?? at('bounds')}
            onChange={(event) => setTo(event.target.value)}
          />
        </div>
        <TextArea
          label="Why"
          rows={2}
          value={reason}
          error={noReason ?? at('reason')}
          onChange={(event) => setReason(event.target.value)}
          help="Every proposal that rests on it says so, with this reason."
        />
        <div className="buttons">
          <button type="submit" className="act" disabled={fetching}>
            Keep it
          </button>
          {figure.own && (
            <button
              type="button"
              className="plain"
              disabled={fetching}
              onClick={() => {
                setTried(true)
                if (reason.trim()) keep(null)
              }}
            >
              Take the trade’s again
            </button>
          )}
        </div>
      </form>
    </Sheet>
  )
}
