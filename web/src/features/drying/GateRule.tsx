import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { faults } from '../../app/faults'
import { type DryingLogFragment, SetGateRuleDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { parseQuantity } from '../../model/number'
import { NumberField, TextArea } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './drying.module.css'

type Gate = DryingLogFragment['gates'][number]

/** What was typed: null for an empty field, undefined where it is no number. */
function figure(text: string): number | null | undefined {
  if (!text.trim()) return null
  const parsed = parseQuantity(text, 2)
  return parsed.ok ? parsed.value : undefined
}

/** The practice’s own figures for a gate, on every sheet of every hull, with where they come from. */
export function GateRule({ gate, onClose, onDone }: { gate: Gate; onClose: () => void; onDone: () => void }) {
  const [least, setLeast] = useState(gate.least?.toString() ?? '')
  const [most, setMost] = useState(gate.most?.toString() ?? '')
  const [because, setBecause] = useState('')
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, set] = useMutation(SetGateRuleDocument)
  const { at, rest } = faults(error, 'because', 'least', 'most')
  const [low, high] = [figure(least), figure(most)]
  const none = low === null && high === null
  const crossed = low != null && high != null && low > high
  const wrong = (is: number | null | undefined) => (tried && is === undefined ? 'Give a number' : undefined)

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (low === undefined || high === undefined || none || crossed || !because.trim()) return
    const { data } = await set({
      input: {
        mutation: newId('mut'),
        gate: gate.code,
        version: gate.ruleVersion,
        least: low,
        most: high,
        because: because.trim(),
      },
    })
    if (!data) return
    onDone()
    onClose()
  }

  return (
    <Sheet title="The practice’s own figure" open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {rest && <Failed error={rest} />}
        <p>
          <b>{gate.name}</b>: {gate.asks} <span className="small note">· {gate.tag}</span>
        </p>
        <p className="small note">
          It stands on the gate sheet of every hull from now on, with its source. What was signed keeps what the sheet
          said then. The coating’s own sheet comes first.
        </p>
        <div className="fields">
          <NumberField
            label="At least"
            unit={gate.unit}
            value={least}
            onChange={(event) => setLeast(event.target.value)}
            error={wrong(low) ?? at('least') ?? (tried && none ? 'Give one figure at least' : undefined)}
          />
          <NumberField
            label="At most"
            unit={gate.unit}
            value={most}
            onChange={(event) => setMost(event.target.value)}
            error={wrong(high) ?? at('most') ?? (crossed ? 'It lies below the least' : undefined)}
          />
        </div>
        <TextArea
          label="Where it comes from"
          placeholder="data sheet of the coating, edition and page"
          value={because}
          onChange={(event) => setBecause(event.target.value)}
          error={tried && !because.trim() ? 'Say where the figure comes from' : at('because')}
          help="It stands beside the gate on every sheet. Where there is none, say so: own rule, no source."
        />
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Set it
          </button>
        </div>
      </form>
    </Sheet>
  )
}
