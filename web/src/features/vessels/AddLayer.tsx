import { type FormEvent, useId, useState } from 'react'
import { type CombinedError, useClient } from 'urql'
import { Failed } from '../../app/Fault'
import { HullFigure } from '../../figure/HullFigure'
import { AddLayerDocument, type LayerKind } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { type Bounds, boundsOf, type Extent, outlineOf } from '../../model/lies'
import { ChoiceField } from '../../ui/Choice'
import { DateField } from '../../ui/DateField'
import { NumberField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { useWidth } from '../../ui/useWidth'
import { whatLies } from '../history/whatLies'
import { hullOf, type Known } from './hull'
import s from './vessels.module.css'

/** Words that the comparison, the ledger of causes and the waiting times know; any others may be written. */
const usual: Record<LayerKind, string[]> = {
  construction: [
    'single skin, ortho resin',
    'single skin, iso resin',
    'single skin, vinyl ester outside',
    'single skin, resin not known',
    'sandwich, balsa core',
    'sandwich, foam core',
  ],
  coating: [
    'antifouling',
    'antifouling with copper',
    'epoxy scheme below the water',
    'gelcoat alone',
    'paint',
    'filler, an old repair',
  ],
  behind: [
    'water tank',
    'fuel tank',
    'holding tank',
    'bilge',
    'liner, bonded',
    'bulkhead',
    'engine bed',
    'through-hull fitting',
    'ballast, encapsulated',
    'locker',
  ],
}
const known = ['seen inside', 'measured inside', 'drawings', 'the yard’s papers', 'told by the owner', 'tapped']

const kinds: { value: LayerKind; name: string }[] = [
  { value: 'behind', name: 'Behind the skin' },
  { value: 'coating', name: 'A coating' },
  { value: 'construction', name: 'How she is built' },
]
const extents: { value: Extent; name: string }[] = [
  { value: 'area', name: 'An area' },
  { value: 'line', name: 'A line across' },
  { value: 'point', name: 'A point' },
  { value: 'whole', name: 'All of her' },
]
const boundName: Record<Extent, Partial<Record<keyof Bounds, string>>> = {
  whole: {},
  area: { along: 'From aft', alongTo: 'to', down: 'From above', downTo: 'to below' },
  line: { along: 'From aft', down: 'From above', downTo: 'to below' },
  point: { along: 'From aft', down: 'Down the skin' },
}

/** Says what lies where in a hull: construction, coating, or what stands behind the skin and moves readings. */
export function AddLayer({ vessel, onClose, onDone }: { vessel: Known; onClose: () => void; onDone: () => void }) {
  const client = useClient()
  const [kind, setKind] = useState<LayerKind>('behind')
  const [what, setWhat] = useState('')
  const [extent, setExtent] = useState<Extent>('area')
  const [side, setSide] = useState<'both' | 'port' | 'starboard'>('both')
  const [bounds, setBounds] = useState<Bounds>({ along: '', alongTo: '', down: '', downTo: '' })
  const [howKnown, setHowKnown] = useState('')
  const [since, setSince] = useState<string | null>(null)
  const [tried, setTried] = useState(false)
  const [busy, setBusy] = useState(false)
  const [error, setError] = useState<CombinedError | null>(null)
  const outline = outlineOf(extent, bounds)
  const ids = useId()

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!what.trim() || !outline.ok) return
    setBusy(true)
    setError(null)
    try {
      const { error } = await client
        .mutation(AddLayerDocument, {
          input: {
            mutation: newId('mut'),
            id: newId('lay'),
            element: await hullOf(client, vessel),
            kind,
            what: what.trim(),
            side: side === 'both' ? null : side,
            outline: outline.value,
            howKnown: howKnown.trim(),
            validFrom: since,
          },
        })
        .toPromise()
      if (error) throw error
      onDone()
      onClose()
    } catch (fault) {
      setError(fault as CombinedError)
    } finally {
      setBusy(false)
    }
  }

  return (
    <Sheet title="What lies where" open onClose={onClose} wide>
      <form className={s.form} noValidate onSubmit={send}>
        {error && <Failed error={error} />}
        <ChoiceField
          label="It is"
          value={kind}
          onChange={(next) => {
            setKind(next)
            setExtent(next === 'behind' ? 'area' : 'whole')
          }}
          options={kinds}
        />
        <div className="fields">
          <TextField
            label="What"
            list={`${ids}-what`}
            autoComplete="off"
            value={what}
            onChange={(event) => setWhat(event.target.value)}
            error={tried && !what.trim() ? `Say what it is, such as ${usual[kind][0]}` : undefined}
          />
          <TextField
            label="How that is known"
            list={`${ids}-known`}
            autoComplete="off"
            value={howKnown}
            onChange={(event) => setHowKnown(event.target.value)}
          />
          <DateField label="Since" value={since} onChange={setSince} help="Empty: always, as far as known." />
        </div>
        <datalist id={`${ids}-what`}>
          {usual[kind].map((word) => (
            <option key={word} value={word} />
          ))}
        </datalist>
        <datalist id={`${ids}-known`}>
          {known.map((word) => (
            <option key={word} value={word} />
          ))}
        </datalist>
        <div className="fields">
          <ChoiceField label="Where" value={extent} onChange={setExtent} options={extents} />
          <ChoiceField
            label="Side"
            value={side}
            onChange={setSide}
            options={[
              { value: 'both', name: 'Both' },
              { value: 'port', name: 'Port' },
              { value: 'starboard', name: 'Starboard' },
            ]}
          />
        </div>
        {extent !== 'whole' && (
          <div className="fields">
            {boundsOf[extent].map((bound) => (
              <NumberField
                key={bound}
                label={boundName[extent][bound] ?? bound}
                unit="m"
                value={bounds[bound]}
                onChange={(event) => setBounds((now) => ({ ...now, [bound]: event.target.value }))}
              />
            ))}
          </div>
        )}
        {tried && !outline.ok && (
          <p className="error" role="alert">
            {outline.why}
          </p>
        )}
        {extent !== 'whole' && (
          <p className="small note">
            Metres forward of the aft perpendicular, and down the skin from the mark that places are measured from, less
            than nothing above it: the same as her places.
          </p>
        )}
        {vessel.element?.figure ? (
          <Drawn
            figure={vessel.element.figure}
            layer={outline.ok ? { kind, what, side, outline: outline.value } : null}
          />
        ) : null}
        <div>
          <button type="submit" className="act" disabled={busy}>
            Write it down
          </button>
        </div>
      </form>
    </Sheet>
  )
}

interface Drawing {
  kind: LayerKind
  what: string
  side: 'both' | 'port' | 'starboard'
  outline: [number, number][]
}

/** The hull with what is being written down, so that a slip of a metre is seen before it is kept. */
function Drawn({ figure, layer }: { figure: unknown; layer: Drawing | null }) {
  const [ref, width] = useWidth<HTMLDivElement>(900)
  const lies = whatLies(
    layer ? [{ ...layer, kind: 'behind', side: layer.side === 'both' ? null : layer.side }] : [],
    undefined,
  )
  return (
    <div ref={ref}>
      <HullFigure
        spec={figure}
        width={width}
        small={width < 600}
        layers={lies.layers}
        fittings={lies.fittings}
        label="The hull with what is being written down"
      />
    </div>
  )
}
