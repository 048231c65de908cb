import { type FormEvent, useState } from 'react'
import { useNavigate } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import {
  OpenPassDocument,
  PassChoicesDocument,
  PassHeadFragmentDoc,
  type VisitPageQuery,
} from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { rains, surfaces } from '../../model/kinds'
import { parseQuantity } from '../../model/number'
import { plural } from '../../model/words'
import { ChoiceField } from '../../ui/Choice'
import { NumberField, SelectField, TextField } from '../../ui/Field'
import { Notice, Waiting } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import { useUnasked } from '../findings/useUnasked'
import s from './visit.module.css'

type Visit = NonNullable<VisitPageQuery['visit']>

/** A pass begins with what it will be compared by: instrument, scale, face, plan, surface. */
export function OpenPass({ visit, open, onClose }: { visit: Visit; open: boolean; onClose: () => void }) {
  return (
    <Sheet title="Open a pass" open={open} onClose={onClose}>
      {open && <Form visit={visit} onClose={onClose} />}
    </Sheet>
  )
}

function Form({ visit, onClose }: { visit: Visit; onClose: () => void }) {
  const navigate = useNavigate()
  const viewer = useViewer()
  const [{ data, error }] = useQuery({ query: PassChoicesDocument, variables: { vessel: visit.vessel.id } })
  const [{ fetching, error: refused }, openPass] = useMutation(OpenPassDocument)
  const { unasked, field } = useUnasked(refused)
  const instruments = (data?.instruments.edges ?? [])
    .map(({ node }) => node)
    .filter(({ retiredOn, scales }) => !retiredOn && scales.length > 0)
  const plans = [...(data?.vessel?.plans ?? [])].sort((a, b) => b.planVersion - a.planVersion)
  const element = data?.vessel?.elements[0]
  const [chosen, setChosen] = useState({ instrument: '', scale: '', plan: '' })
  const [face, setFace] = useState<'outside' | 'inside'>('outside')
  const [said, setSaid] = useState({ surface: '', drySurface: '', wash: '', rain: '' })
  const [paper, setPaper] = useState(false)
  const [written, setWritten] = useState({ instrument: '', hand: '' })
  const [wiped, setWiped] = useState(false)
  const [reset, setReset] = useState(false)
  const [wrong, setWrong] = useState<string | undefined>()
  if (!data) return error ? <Failed error={error} /> : <Waiting />
  const instrument = instruments.find(({ id }) => id === chosen.instrument) ?? instruments[0]
  const scale = instrument?.scales.find(({ id }) => id === chosen.scale) ?? instrument?.scales[0]
  const plan = plans.find(({ id }) => id === chosen.plan) ?? plans[0]
  if (!element || !plan)
    return (
      <Notice bad>
        This vessel has no plan of places yet. Her brief takes one: dry places on both sides, then stations and rows.
      </Notice>
    )
  if (!instrument || !scale)
    return <Notice bad>The practice has no instrument with a scale yet. Add one under Instruments.</Notice>

  async function send(event: FormEvent) {
    event.preventDefault()
    const wash = said.wash.trim() ? parseQuantity(said.wash, 0) : null
    setWrong(wash && !wash.ok ? wash.why : undefined)
    if (wash && !wash.ok) return
    const { data } = await openPass(
      {
        input: {
          mutation: newId('mut'),
          id: newId('pas'),
          visit: visit.id,
          element: element?.id ?? '',
          plan: plan?.id ?? '',
          ...(paper
            ? {
                source: 'typed from paper',
                quoted: true,
                instrumentAsWritten: written.instrument.trim(),
                handAsWritten: written.hand.trim(),
              }
            : { instrument: instrument?.id ?? null, scale: scale?.id ?? null, hand: viewer?.member.id ?? null }),
          face,
          surface: said.surface.trim(),
          drySurface: said.drySurface.trim(),
          hoursSinceWash: wash?.ok ? wash.value : null,
          rain: said.rain.trim(),
          saltWiped: wiped || null,
          zeroReset: reset || null,
          beganAt: paper ? visit.from : new Date().toISOString(),
          unasked,
        },
      },
      { additionalTypenames: ['Visit'] },
    )
    if (!data) return
    onClose()
    navigate(`/passes/${read(PassHeadFragmentDoc, data.openPass.pass).id}`)
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      {refused && <Failed error={refused} />}
      <Tick checked={paper} onChange={setPaper}>
        From an old paper: quoted, shown and never computed with
      </Tick>
      {paper && (
        <div className="fields">
          <TextField
            label="Instrument, as written"
            value={written.instrument}
            onChange={(event) => setWritten((now) => ({ ...now, instrument: event.target.value }))}
          />
          <TextField
            label="Hand, as written"
            value={written.hand}
            onChange={(event) => setWritten((now) => ({ ...now, hand: event.target.value }))}
          />
        </div>
      )}
      <div className="fields">
        {!paper && (
          <>
            <SelectField
              label="Instrument"
              value={instrument.id}
              onChange={(event) => setChosen((now) => ({ ...now, instrument: event.target.value, scale: '' }))}
            >
              {instruments.map(({ id, name }) => (
                <option key={id} value={id}>
                  {name}
                </option>
              ))}
            </SelectField>
            <SelectField
              label="Scale"
              value={scale.id}
              onChange={(event) => setChosen((now) => ({ ...now, scale: event.target.value }))}
            >
              {instrument.scales.map(({ id, name, mode, lowTenths, highTenths }) => (
                <option key={id} value={id}>
                  {[name, mode].filter(Boolean).join(', ')} ({lowTenths / 10} to {highTenths / 10})
                </option>
              ))}
            </SelectField>
          </>
        )}
        <SelectField
          label="Plan"
          value={plan.id}
          onChange={(event) => setChosen((now) => ({ ...now, plan: event.target.value }))}
        >
          {plans.map(({ id, planVersion, places, dry }) => (
            <option key={id} value={id}>
              version {planVersion}: {plural(places.length, 'place')}, {dry.length} dry
            </option>
          ))}
        </SelectField>
      </div>
      <ChoiceField
        label="Face"
        value={face}
        onChange={setFace}
        options={[
          { value: 'outside', name: 'Outside' },
          { value: 'inside', name: 'Inside' },
        ]}
        help="From inside the pad meets the drier side; never subtracted from outside."
      />
      <div className="fields">
        <SelectField
          label="Surface below the water"
          value={said.surface}
          onChange={(event) => setSaid((now) => ({ ...now, surface: event.target.value }))}
        >
          {surfaces.map((word) => (
            <option key={word} value={word}>
              {word || 'not stated'}
            </option>
          ))}
        </SelectField>
        <SelectField
          label="Surface of the dry places"
          value={said.drySurface}
          onChange={(event) => setSaid((now) => ({ ...now, drySurface: event.target.value }))}
        >
          {surfaces.map((word) => (
            <option key={word} value={word}>
              {word || 'not stated'}
            </option>
          ))}
        </SelectField>
        <NumberField
          label="Washed"
          unit="hours ago"
          value={said.wash}
          onChange={(event) => setSaid((now) => ({ ...now, wash: event.target.value }))}
          error={wrong}
        />
        <SelectField
          label="Rain since"
          value={said.rain}
          onChange={(event) => setSaid((now) => ({ ...now, rain: event.target.value }))}
        >
          {rains.map((word) => (
            <option key={word} value={word}>
              {word || 'not known'}
            </option>
          ))}
        </SelectField>
      </div>
      <Tick checked={wiped} onChange={setWiped}>
        Salt wiped off
      </Tick>
      <Tick checked={reset} onChange={setReset}>
        Zero reset, where the instrument has one
      </Tick>
      <p className="small note">
        What is left out is asked for again, and the pass is worth less without it. Surface below 0 °C: take no
        readings.
      </p>
      {field}
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Open it
        </button>
      </div>
    </form>
  )
}
