import { Link, useParams } from 'react-router'
import { useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import {
  InstrumentPageDocument,
  type InstrumentPageQuery,
  ReplacementPartsFragmentDoc,
  ScatterPartsFragmentDoc,
} from '../../graphql/gen/graphql'
import { monthYear, shortDay } from '../../model/dates'
import { tenths } from '../../model/number'
import { plural } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { Running } from '../../ui/Running'
import { Table } from '../../ui/Table'
import { BlockChart } from './BlockChart'
import { CrossFigure } from './CrossFigure'
import { Itself } from './Itself'
import s from './instruments.module.css'
import { Said, Symbols } from './Said'

type Book = NonNullable<InstrumentPageQuery['instrumentBook']>
type Kit = Book['kits'][number]

/** One instrument’s own page: how closely it comes back, whether it drifts, what it was read beside. */
export default function InstrumentPage() {
  const { id = '' } = useParams()
  const viewer = useViewer()
  const [{ data, error }, again] = useQuery({ query: InstrumentPageDocument, variables: { id } })
  if (data && !data.instrumentBook) return <NotFound />
  return (
    <>
      <Running
        title={data?.instrumentBook?.instrument.name ?? 'Instrument'}
        right={
          <span className="no-print">
            <Link to="/instruments/half-hour">The half hour</Link>
          </span>
        }
      >
        {data?.instrumentBook && identity(data.instrumentBook.instrument)}
      </Running>
      <main id="main" className="page-body">
        <Answer data={data?.instrumentBook} error={error} again={again} lines={10}>
          {(book) => (
            <>
              {book.precisions.map((precision) => (
                <Closeness
                  key={precision.scale.id}
                  precision={precision}
                  instrument={book.instrument}
                  aid={book.aid.text}
                />
              ))}
              <Kits book={book} />
              <section>
                <h2>Block checks</h2>
                {book.charts.length === 0 ? (
                  <p className="note measure">
                    None yet. A check on the low and the high block before and after each pass tells a drift of the
                    instrument from a change of the hull.
                  </p>
                ) : (
                  <div className={s.charts}>
                    {book.charts.map((chart) => (
                      <BlockChart
                        key={`${chart.scale} ${chart.block}`}
                        chart={chart}
                        instrument={book.instrument.name}
                        scale={scaleName(book, chart.scale)}
                      />
                    ))}
                  </div>
                )}
              </section>
              <Comparisons book={book} />
              <Itself instrument={book.instrument} />
            </>
          )}
        </Answer>
        <Invented show={viewer?.practice.invented} />
      </main>
    </>
  )
}

function identity(i: Book['instrument']): string {
  return [
    i.kind,
    (i.sensing === 'deep' || i.sensing === 'shallow') && `${i.sensing}-sensing`,
    i.serial && `serial ${i.serial}`,
    i.boughtOn && `since ${monthYear(i.boughtOn)}`,
    i.retiredOn && `retired ${monthYear(i.retiredOn)}`,
  ]
    .filter(Boolean)
    .join(' · ')
}

function scaleName(book: Book, id: string): string {
  return book.instrument.scales.find((scale) => scale.id === id)?.name ?? ''
}

function Closeness({
  precision,
  instrument,
  aid,
}: {
  precision: Book['precisions'][number]
  instrument: Book['instrument']
  /** What a person’s own figure is for. */
  aid: string
}) {
  const scale = instrument.scales.find(({ id }) => id === precision.scale.id)
  const rows = [
    {
      id: 's_r',
      name: 's_r, one hand',
      few: false,
      df: precision.replacements,
      of: read(ScatterPartsFragmentDoc, precision.repeatability),
    },
    {
      id: 's_R',
      name: 's_R, two people',
      few: false,
      df: 0,
      of: read(ScatterPartsFragmentDoc, precision.reproducibility),
    },
    ...precision.own.map((own) => {
      const of = read(ScatterPartsFragmentDoc, own.repeatability)
      return { id: own.member.id, name: `${own.member.name}, own s_r`, few: !of || of.degreesOfFreedom < 30, df: 0, of }
    }),
  ]
  return (
    <section>
      <h2>
        How closely it comes back
        <span className={s.aside}>
          {' '}
          scale {precision.scale.name}
          {scale?.mode && `, ${scale.mode}`}, {scale && `${tenths(scale.lowTenths)} to ${tenths(scale.highTenths)}`},{' '}
          {scale?.timberPercent ? 'percent of timber' : 'no unit'}
        </span>
      </h2>
      <div className={s.close}>
        <div>
          <Said says={precision.says} />
          {precision.own.length > 0 && <p className="small wet note measure">Own figures: {aid}</p>}
        </div>
        {precision.kits > 0 && (
          <Table
            caption="Measured scatter"
            hideCaption
            className="folds pairs"
            columns={[
              { head: 'scatter', names: true, cell: (row: (typeof rows)[number]) => <Symbols text={row.name} /> },
              {
                head: 'scale units',
                num: true,
                cell: ({ of, few, df }) =>
                  of ? (few ? 'too few' : figure(of.value)) : df ? 'not shown' : 'not measured',
              },
              {
                head: '95 in 100',
                num: true,
                nowrap: true,
                cell: ({ of, few }) => (of && !few ? `${figure(of.lower)} to ${figure(of.upper)}` : '–'),
              },
              { head: 'degrees of freedom', num: true, cell: ({ of, df }) => of?.degreesOfFreedom ?? (df || '–') },
            ]}
            rows={rows}
            id={(row) => row.id}
          />
        )}
      </div>
    </section>
  )
}

/** Two figures below one, one decimal above: no finer than it is known. */
export function figure(value: number): string {
  return value.toFixed(value < 1 ? 2 : 1)
}

function Kits({ book }: { book: Book }) {
  const here = `/instruments/${book.instrument.id}`
  return (
    <section>
      <div className={s.head}>
        <h2>Kits</h2>
        <Allowed to="writeTools">
          <Link className="push no-print" to={`${here}/kit`}>
            Enter a kit
          </Link>
        </Allowed>
      </div>
      {book.kits.length === 0 ? (
        <p className="note measure">
          None yet. Ten spots, read three times by each hand, take half an hour and say how closely this instrument
          comes back.
        </p>
      ) : (
        <Table
          caption="Repeatability kits"
          hideCaption
          columns={[
            { head: 'read on', names: true, nowrap: true, cell: (kit: Kit) => shortDay(kit.madeOn) },
            { head: 'block', nowrap: true, cell: (kit) => `${kit.spots} spots × ${kit.repeats}` },
            { head: 'hands', cell: (kit) => kit.hands.map(({ member }) => member.name).join(', ') },
            { head: 'note', cell: (kit) => kit.note },
            { head: 'stands', cell: (kit) => <Stands of={kit} to={`${here}/kit?replaces=${kit.id}`} /> },
          ]}
          rows={book.kits}
          id={(kit) => kit.id}
        />
      )}
    </section>
  )
}

/** Whether a kit or set counts, what it corrects, and the way to correct it. */
function Stands({ of, to }: { of: { replacement: Kit['replacement'] }; to: string }) {
  const { because, replacedBy, replacedBecause } = read(ReplacementPartsFragmentDoc, of.replacement)
  if (replacedBy) return <span className="wet">replaced: {replacedBecause}</span>
  return (
    <>
      counts{because && `; corrects an earlier one: ${because}`}
      <Allowed to="writeTools">
        <span className="no-print">
          {' '}
          · <Link to={to}>put it right</Link>
        </span>
      </Allowed>
    </>
  )
}

function Comparisons({ book }: { book: Book }) {
  const here = `/instruments/${book.instrument.id}`
  return (
    <section>
      <div className={s.head}>
        <h2>Read beside others</h2>
        <Allowed to="writeTools">
          <Link className="push no-print" to={`${here}/beside`}>
            Enter cross-readings
          </Link>
        </Allowed>
      </div>
      {book.comparisons.length === 0 ? (
        <p className="note measure">
          Never yet. Without a cross-reading set, readings of two instruments are shown side by side and nothing is
          subtracted.
        </p>
      ) : (
        book.comparisons.map((set) => (
          <article key={set.id} className={s.set}>
            <div>
              <h3>
                {set.first.instrument.name} and {set.second.instrument.name}
              </h3>
              <p className="small note">
                {[
                  shortDay(set.madeOn),
                  plural(set.firstTenths.length, 'spot'),
                  `a change of ${tenths(set.effectTenths)} matters`,
                  set.note,
                ]
                  .filter(Boolean)
                  .join(' · ')}
              </p>
              <Said says={set.says} />
              {set.line && <Said says={set.line.notes.map(({ text }) => ({ claim: 'caution', text }))} />}
              <p className="small">
                <Stands of={set} to={`${here}/beside?replaces=${set.id}`} />
              </p>
            </div>
            <CrossFigure set={set} />
          </article>
        ))
      )}
    </section>
  )
}
