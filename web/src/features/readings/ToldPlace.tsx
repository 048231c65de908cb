import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { AddPlacesDocument, AddReadingsDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { parseQuantity, parseTenths } from '../../model/number'
import { NumberField, SelectField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './grid.module.css'

const sides = ['port', 'starboard', 'centre']
const blank = { words: '', side: 'port', along: '', down: '', doubt: '400', reading: '' }

interface ToldProps {
  pass: string
  element: string
  /** When the pass was, an instant. */
  at: string
  open: boolean
  onClose: () => void
}

/** A reading of an old paper at a place that it tells in words: the words are kept, the position is estimated with how far off it may lie. */
export function ToldPlace(props: ToldProps) {
  return (
    <Sheet title="A place told in words" open={props.open} onClose={props.onClose}>
      {props.open && <Form {...props} />}
    </Sheet>
  )
}

function Form({ pass, element, at }: ToldProps) {
  const [typed, setTyped] = useState(blank)
  const [wrong, setWrong] = useState<Partial<typeof blank>>({})
  const [kept, setKept] = useState<string[]>([])
  const [place, addPlaces] = useMutation(AddPlacesDocument)
  const [reading, addReadings] = useMutation(AddReadingsDocument)
  const put = (part: Partial<typeof blank>) => setTyped((now) => ({ ...now, ...part }))

  async function send(event: FormEvent) {
    event.preventDefault()
    const along = parseQuantity(typed.along, 3)
    const down = parseQuantity(typed.down, 3)
    const doubt = parseQuantity(typed.doubt, 0)
    const value = parseTenths(typed.reading)
    const faults = {
      words: typed.words.trim() ? undefined : 'as the paper says it',
      along: along.ok ? undefined : along.why,
      down: down.ok ? undefined : down.why,
      doubt: doubt.ok ? undefined : doubt.why,
      reading: typed.reading.trim() ? undefined : 'as written',
    }
    setWrong(faults)
    if (!along.ok || !down.ok || !doubt.ok || faults.words || faults.reading) return
    const added = await addPlaces({
      input: {
        mutation: newId('mut'),
        element,
        ids: [newId('plc')],
        labels: [`paper ${Math.round(along.value * 10)}/${Math.round(down.value * 10)}`],
        sides: [typed.side],
        along: [Math.round(along.value * 1000)],
        down: [Math.round(down.value * 1000)],
        errors: [doubt.value],
        toldAs: [typed.words.trim()],
      },
    })
    const ordinal = added.data?.addPlaces.ordinals[0]
    if (ordinal == null) return
    const done = await addReadings({
      input: {
        mutation: newId('mut'),
        pass,
        ids: [newId('rdg')],
        places: [ordinal],
        placements: [value.ok ? [value.value] : null],
        written: [value.ok ? null : typed.reading.trim()],
        takenAt: [Math.floor(Date.parse(at) / 1000)],
      },
    })
    if (!done.data) return
    setKept((now) => [...now, `${typed.words.trim()}: ${typed.reading.trim()}`])
    setTyped({ ...blank, side: typed.side, doubt: typed.doubt })
  }

  const error = place.error ?? reading.error
  return (
    <form className={s.told} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <TextField
        label="Where, in the paper’s words"
        value={typed.words}
        onChange={(event) => put({ words: event.target.value })}
        error={wrong.words}
        help="For example: port side, two metres from the stern, a hand below the waterline."
        maxLength={500}
      />
      <div className="fields">
        <SelectField label="Side" value={typed.side} onChange={(event) => put({ side: event.target.value })}>
          {sides.map((side) => (
            <option key={side}>{side}</option>
          ))}
        </SelectField>
        <NumberField
          label="Forward of the aft perpendicular"
          unit="m"
          value={typed.along}
          onChange={(event) => put({ along: event.target.value })}
          error={wrong.along}
        />
        <NumberField
          label="Down the skin from the waterline"
          unit="m"
          value={typed.down}
          onChange={(event) => put({ down: event.target.value })}
          error={wrong.down}
        />
        <NumberField
          label="May lie off by"
          unit="mm"
          value={typed.doubt}
          onChange={(event) => put({ doubt: event.target.value })}
          error={wrong.doubt}
          help="Your estimate; words give 300 to 500 mm (common practice, no source)."
        />
        <TextField
          label="Reading, as written"
          value={typed.reading}
          onChange={(event) => put({ reading: event.target.value })}
          error={wrong.reading}
          inputMode="text"
        />
      </div>
      <div>
        <button type="submit" className="act" disabled={place.fetching || reading.fetching}>
          Keep place and reading
        </button>
      </div>
      <div role="status">
        {kept.length > 0 && (
          <ul>
            {kept.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        )}
      </div>
      <p className="small note">
        It is matched with the places of today within what both may lie off by, shown beside them and never subtracted.
      </p>
    </form>
  )
}
