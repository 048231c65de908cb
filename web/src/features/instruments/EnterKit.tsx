import { type FormEvent, useRef, useState } from 'react'
import { useNavigate, useParams, useSearchParams } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Failed, NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import {
  EntryChoicesDocument,
  type EntryChoicesQuery,
  InstrumentPageDocument,
  type InstrumentPageQuery,
  RecordRepeatKitDocument,
} from '../../graphql/gen/graphql'
import { type BlockColumn, begin, type Hands, kitCells, kitTenths, readBlock, regroup } from '../../model/block'
import { dayIn } from '../../model/dates'
import { newId } from '../../model/id'
import { parseQuantity } from '../../model/number'
import { capital, plural } from '../../model/words'
import { DateField } from '../../ui/DateField'
import { NumberField, SelectField, TextField } from '../../ui/Field'
import { Running } from '../../ui/Running'
import { Tick } from '../../ui/Tick'
import { forgetTyped, useTyped } from '../../ui/useTyped'
import { BlockGrid, BlockKeys } from './BlockGrid'
import s from './instruments.module.css'
import { useTrail } from './useEntry'

type Book = NonNullable<InstrumentPageQuery['instrumentBook']>
type Members = EntryChoicesQuery['members']['edges'][number]['node'][]

/** A repeatability kit typed as one block: spots down, people and their repeats across. */
export default function EnterKit() {
  const { id = '' } = useParams()
  const [search] = useSearchParams()
  const [book] = useQuery({ query: InstrumentPageDocument, variables: { id } })
  const [choices] = useQuery({ query: EntryChoicesDocument })
  if (book.data && !book.data.instrumentBook) return <NotFound />
  const replaces = book.data?.instrumentBook?.kits.find((kit) => kit.id === search.get('replaces'))
  return (
    <>
      <Running title={replaces ? 'Put a kit right' : 'Enter a repeatability kit'}>
        {book.data?.instrumentBook?.instrument.name}
      </Running>
      <main id="main" className="page-body">
        <Answer data={book.data?.instrumentBook && choices.data} error={book.error ?? choices.error} lines={10}>
          {(choices) => (
            <Form
              book={book.data?.instrumentBook as Book}
              members={choices.members.edges.map(({ node }) => node)}
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
  members,
  replaces,
}: {
  book: Book
  members: Members
  replaces: Book['kits'][number] | undefined
}) {
  const go = useNavigate()
  const { instrument } = book
  const here = `/instruments/${instrument.id}`
  const may = members.filter(
    ({ leftAt, id, roles }) =>
      (!leftAt && roles.some((role) => role !== 'office')) || replaces?.hands.some(({ member }) => member.id === id),
  )
  const [scale, setScale] = useState(replaces?.scale ?? instrument.scales[0]?.id ?? '')
  const [on, setOn] = useState<string | null>(replaces?.madeOn ?? dayIn(Date.now(), 'UTC'))
  const typedAs = `kit/${instrument.id}/${replaces?.id ?? ''}/`
  const [size, setSize] = useTyped(`${typedAs}size`, {
    spots: `${replaces?.spots ?? 10}`,
    repeats: `${replaces?.repeats ?? 3}`,
  })
  const [hands, setHands] = useTyped<string[]>(`${typedAs}hands`, replaces?.hands.map(({ member }) => member.id) ?? [])
  const [note, setNote] = useState(replaces?.note ?? '')
  const [because, setBecause] = useState('')
  const [said, setSaid] = useState('')
  const [tried, setTried] = useState(false)
  const [ids] = useState(() => ({ kit: newId('kit'), mutation: newId('mut') }))
  const { trail, setTrail } = useTrail(
    `${typedAs}cells`,
    replaces
      ? kitCells(
          replaces.hands.map(({ tenths }) => tenths),
          replaces.repeats,
        )
      : {},
  )
  const [{ fetching, error }, record] = useMutation(RecordRepeatKitDocument)

  const spots = whole(size.spots, 2, 60)
  const repeats = whole(size.repeats, 2, 10)
  const laid = useRef<Hands>({ hands, repeats: repeats ?? 3 })
  /** Columns come, go and move: each reading stays with whoever read it. */
  function lay(next: string[], repeats: number | null) {
    setHands(next)
    if (!repeats) return
    const before = laid.current
    laid.current = { hands: next, repeats }
    const moved = repeats !== before.repeats || before.hands.some((hand, k) => next[k] !== hand)
    if (moved) setTrail(begin(regroup(trail.now, before, laid.current)))
  }
  const ends = instrument.scales.find((each) => each.id === scale)
  const columns: BlockColumn[] = hands.flatMap((hand) =>
    Array.from({ length: repeats ?? 0 }, (_, k) => ({
      key: `${hand} ${k}`,
      group: members.find(({ id }) => id === hand)?.name ?? 'somebody',
      head: `${k + 1}`,
      scale: { name: instrument.name, least: ends?.lowTenths ?? 0, most: ends?.highTenths ?? 0 },
    })),
  )
  const block = readBlock(trail.now, spots ?? 0, columns)
  const all = (spots ?? 0) * columns.length
  const stops =
    block.wrong.length > 0
      ? `${plural(block.wrong.length, 'cell')} cannot be kept: ${block.wrong[0]?.why}.`
      : block.filled === 0
        ? 'Nothing has been typed yet.'
        : undefined

  async function send(event?: FormEvent) {
    event?.preventDefault()
    setTried(true)
    if (!spots || !repeats || !on || hands.length === 0 || stops || (replaces && !because.trim())) return
    const { data } = await record({
      input: {
        ...(replaces ? { replacesKit: replaces.id, because: because.trim() } : {}),
        mutation: ids.mutation,
        id: ids.kit,
        instrument: instrument.id,
        scale,
        madeOn: on,
        hands,
        spots,
        repeats,
        tenths: kitTenths(block.columns, hands.length, repeats, spots),
        note: note.trim(),
      },
    })
    if (!data) return
    forgetTyped(typedAs)
    go(here)
  }

  return (
    <form className={s.entry} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <p className="measure">
        {replaces
          ? 'A kit that was kept is not changed: this one takes its place, and both stay in the book. Readings that are not yours to see are left empty here and must be typed again.'
          : 'Ten spots from near the topsides to the wettest you can find, each read three times by each person, the instrument lifted off between (common practice, from memory).'}
      </p>
      <div className="fields">
        {instrument.scales.length > 1 && (
          <SelectField label="Scale" value={scale} onChange={(event) => setScale(event.target.value)}>
            {instrument.scales.map((each) => (
              <option key={each.id} value={each.id}>
                {[each.name, each.mode].filter(Boolean).join(', ')}
              </option>
            ))}
          </SelectField>
        )}
        <DateField label="Read on" value={on} onChange={setOn} {...(tried && !on ? { error: 'Say when' } : {})} />
        <NumberField
          label="Spots"
          value={size.spots}
          onChange={(event) => setSize({ ...size, spots: event.target.value })}
          error={spots ? undefined : 'From 2 to 60'}
        />
        <NumberField
          label="Readings of each spot by each hand"
          value={size.repeats}
          onChange={(event) => {
            setSize({ ...size, repeats: event.target.value })
            lay(hands, whole(event.target.value, 2, 10))
          }}
          error={repeats ? undefined : 'From 2 to 10'}
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
      <fieldset className={s.hands}>
        <legend>Who read</legend>
        {may.map(({ id, name }) => (
          <Tick
            key={id}
            checked={hands.includes(id)}
            onChange={(now) => lay(now ? [...hands, id] : hands.filter((each) => each !== id), repeats)}
          >
            {name}
          </Tick>
        ))}
        {tried && hands.length === 0 && (
          <p className="error" role="alert">
            Name at least one; two or more tell how far people differ.
          </p>
        )}
      </fieldset>
      {columns.length > 0 && spots ? (
        <>
          <BlockGrid
            caption={`${instrument.name}, scale ${ends?.name ?? ''}`}
            rows={spots}
            columns={columns}
            together={false}
            trail={trail}
            onTrail={setTrail}
            onSaid={setSaid}
            onKeep={send}
          />
          <BlockKeys />
        </>
      ) : (
        <p className="note">The block opens once it is said who read.</p>
      )}
      <div className={s.foot}>
        <button type="submit" className="act" disabled={fetching}>
          Keep the kit
        </button>
        <p role="status">
          {said && `${said} `}
          {tried && stops ? (
            <span className={s.stops}>{capital(stops)}</span>
          ) : (
            all > 0 && `${block.filled} of ${all} read.`
          )}
        </p>
      </div>
    </form>
  )
}

/** A whole number within bounds, or nothing. */
export function whole(text: string, least: number, most: number): number | null {
  const number = parseQuantity(text, 0)
  return number.ok && number.value >= least && number.value <= most ? number.value : null
}
