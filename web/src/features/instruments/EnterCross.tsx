import { type FormEvent, useState } from 'react'
import { useNavigate, useParams, useSearchParams } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Failed, NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import {
  EntryChoicesDocument,
  type EntryChoicesQuery,
  InstrumentPageDocument,
  type InstrumentPageQuery,
  RecordCrossReadingsDocument,
} from '../../graphql/gen/graphql'
import { type BlockColumn, kitCells, readBlock } from '../../model/block'
import { dayIn } from '../../model/dates'
import { newId } from '../../model/id'
import { parseTenths, tenths } from '../../model/number'
import { capital, plural } from '../../model/words'
import { DateField } from '../../ui/DateField'
import { NumberField, SelectField, TextField } from '../../ui/Field'
import { Running } from '../../ui/Running'
import { forgetTyped } from '../../ui/useTyped'
import { BlockGrid, BlockKeys } from './BlockGrid'
import { whole } from './EnterKit'
import s from './instruments.module.css'
import { useTrail } from './useEntry'

type Book = NonNullable<InstrumentPageQuery['instrumentBook']>
type Instruments = EntryChoicesQuery['instruments']['edges'][number]['node'][]

/** Places read with two instruments, typed spot by spot. */
export default function EnterCross() {
  const { id = '' } = useParams()
  const [search] = useSearchParams()
  const [book] = useQuery({ query: InstrumentPageDocument, variables: { id } })
  const [choices] = useQuery({ query: EntryChoicesDocument })
  if (book.data && !book.data.instrumentBook) return <NotFound />
  const replaces = book.data?.instrumentBook?.comparisons.find((set) => set.id === search.get('replaces'))
  return (
    <>
      <Running title={replaces ? 'Put a cross-reading set right' : 'Enter cross-readings'}>
        {book.data?.instrumentBook?.instrument.name} beside another
      </Running>
      <main id="main" className="page-body">
        <Answer data={book.data?.instrumentBook && choices.data} error={book.error ?? choices.error} lines={10}>
          {(choices) => (
            <Form
              book={book.data?.instrumentBook as Book}
              instruments={choices.instruments.edges.map(({ node }) => node)}
              beside={search.get('with')}
              replaces={replaces}
            />
          )}
        </Answer>
      </main>
    </>
  )
}

function Form({
  book,
  instruments,
  beside,
  replaces,
}: {
  book: Book
  instruments: Instruments
  beside: string | null
  replaces: Book['comparisons'][number] | undefined
}) {
  const go = useNavigate()
  const { instrument } = book
  const scales = instruments
    .filter(({ kind, retiredOn }) => (kind === 'capacitance' || kind === 'pins') && !retiredOn)
    .flatMap((of) => of.scales.map((scale) => ({ of, scale })))
  const own = scales.find(({ of }) => of.id === instrument.id)?.scale.id ?? ''
  const [first, setFirst] = useState(replaces?.first.scale.id ?? own)
  const [second, setSecond] = useState(
    replaces?.second.scale.id ??
      scales.find(({ of }) => (beside ? of.id === beside : of.id !== instrument.id))?.scale.id ??
      '',
  )
  const [on, setOn] = useState<string | null>(replaces?.madeOn ?? dayIn(Date.now(), 'UTC'))
  const [spots, setSpots] = useState(`${replaces?.firstTenths.length ?? 15}`)
  const [effect, setEffect] = useState(replaces ? tenths(replaces.effectTenths) : '')
  const [note, setNote] = useState(replaces?.note ?? '')
  const [because, setBecause] = useState('')
  const [said, setSaid] = useState('')
  const [tried, setTried] = useState(false)
  const [ids] = useState(() => ({ set: newId('crs'), mutation: newId('mut') }))
  const typedAs = `beside/${instrument.id}/${replaces?.id ?? ''}/`
  const { trail, setTrail } = useTrail(
    `${typedAs}cells`,
    replaces ? kitCells([replaces.firstTenths, replaces.secondTenths], 1) : {},
  )
  const [{ fetching, error }, record] = useMutation(RecordCrossReadingsDocument)

  const rows = whole(spots, 1, 200)
  const matters = parseTenths(effect)
  const known = matters.ok && matters.value > 0
  const columns: BlockColumn[] = [first, second].map((id, k) => {
    const found = scales.find(({ scale }) => scale.id === id)
    const name = found?.of.name ?? (k ? 'second' : 'first')
    return {
      key: `${k}`,
      group:
        k && found?.of.id === scales.find(({ scale }) => scale.id === first)?.of.id
          ? `${name}, ${found?.scale.name}`
          : name,
      head: '',
      scale: { name, least: found?.scale.lowTenths ?? 0, most: found?.scale.highTenths ?? 0 },
    }
  })
  const block = readBlock(trail.now, rows ?? 0, columns)
  const pairs: [number, number][] = []
  let halves = 0
  for (let row = 0; row < (rows ?? 0); row++) {
    const a = block.columns[0]?.[row]
    const b = block.columns[1]?.[row]
    if (a != null && b != null) pairs.push([a, b])
    else if (a != null || b != null) halves++
  }
  const stops =
    block.wrong.length > 0
      ? `${plural(block.wrong.length, 'cell')} cannot be kept: ${block.wrong[0]?.why}.`
      : halves > 0
        ? `${plural(halves, 'spot')} read with one instrument only: complete or clear.`
        : pairs.length === 0
          ? 'Nothing has been typed yet.'
          : first === second
            ? 'Choose two scales that differ.'
            : undefined

  async function send(event?: FormEvent) {
    event?.preventDefault()
    setTried(true)
    if (!on || !matters.ok || !known || stops || (replaces && !because.trim())) return
    const { data } = await record({
      input: {
        ...(replaces ? { replacesSet: replaces.id, because: because.trim() } : {}),
        mutation: ids.mutation,
        id: ids.set,
        firstScale: first,
        secondScale: second,
        madeOn: on,
        first: pairs.map(([a]) => a),
        second: pairs.map(([, b]) => b),
        effectTenths: matters.value,
        note: note.trim(),
      },
    })
    if (!data) return
    forgetTyped(typedAs)
    go(`/instruments/${instrument.id}`)
  }

  return (
    <form className={s.entry} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <p className="measure">
        At least 15 spots on one day, from near the topsides to the wettest you can find, each read with one instrument
        and at once with the other (common practice, no source). Fewer are kept, and said to be too few.
      </p>
      <div className="fields">
        {(
          [
            ['First', first, setFirst],
            ['Second', second, setSecond],
          ] as const
        ).map(([label, value, set]) => (
          <SelectField key={label} label={label} value={value} onChange={(event) => set(event.target.value)}>
            {scales.map(({ of, scale }) => (
              <option key={scale.id} value={scale.id}>
                {of.scales.length > 1 ? `${of.name}, ${scale.name}` : of.name}
              </option>
            ))}
          </SelectField>
        ))}
        <DateField label="Read on" value={on} onChange={setOn} {...(tried && !on ? { error: 'Say when' } : {})} />
        <NumberField
          label="Spots"
          value={spots}
          onChange={(event) => setSpots(event.target.value)}
          error={rows ? undefined : 'From 1 to 200'}
        />
        <NumberField
          label="The least change that matters"
          unit="units of the second"
          value={effect}
          onChange={(event) => setEffect(event.target.value)}
          help="Say it before you see the fit: the band is held against it."
          error={
            tried && !known ? (matters.ok || effect.trim() === '' ? 'A number above zero' : matters.why) : undefined
          }
        />
        <TextField
          label="Note"
          value={note}
          onChange={(event) => setNote(event.target.value)}
          help="Which hull, where, in what weather."
        />
        {replaces && (
          <TextField
            label="Why it takes the earlier one’s place"
            value={because}
            onChange={(event) => setBecause(event.target.value)}
            error={tried && !because.trim() ? 'Give the reason' : undefined}
          />
        )}
      </div>
      {rows && (
        <>
          <BlockGrid
            caption="Readings spot by spot"
            rows={rows}
            columns={columns}
            together
            trail={trail}
            onTrail={setTrail}
            onSaid={setSaid}
            onKeep={send}
          />
          <BlockKeys />
        </>
      )}
      <div className={s.foot}>
        <button type="submit" className="act" disabled={fetching}>
          Keep the set
        </button>
        <p role="status">
          {said && `${said} `}
          {tried && stops ? (
            <span className={s.stops}>{capital(stops)}</span>
          ) : (
            `${plural(pairs.length, 'spot')} read with both${pairs.length < 15 ? '; a fit needs 15' : ''}.`
          )}
        </p>
      </div>
    </form>
  )
}
