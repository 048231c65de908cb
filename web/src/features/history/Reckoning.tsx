import { Mark } from '../../figure/marks'
import {
  bandWords,
  type Explanation,
  type Gate,
  plainUnits,
  saidOf,
  saidWord,
  type Verdict,
  zoneRows,
} from '../../model/gate'
import { capital } from '../../model/words'
import { Table } from '../../ui/Table'
import s from './resurvey.module.css'

/** The verdicts by zone with the least change shown, and what would account for a difference anyhow. */
export function Reckoning({
  gate,
  since,
  open,
  onOpen,
}: {
  gate: Gate
  /** Between which days, in words. */
  since: string
  /** The zone that is ringed on the hull. */
  open: string | null
  onOpen: (zone: string | null) => void
}) {
  return (
    <section aria-labelledby="zones-head">
      <h2 id="zones-head">What changed, zone by zone</h2>
      <Table
        caption={`Verdicts by zone, ${since}`}
        hideCaption
        className={`folds pairs ${s.zones}`}
        columns={[
          {
            head: 'zone',
            names: true,
            cell: ({ name }) => (
              <button
                type="button"
                className="quiet words"
                aria-pressed={open === name}
                onClick={() => onOpen(open === name ? null : name)}
              >
                {name}
              </button>
            ),
          },
          { head: 'verdict', short: '', cell: ({ verdict }) => <Said verdict={verdict} /> },
          {
            head: 'difference, 95 %',
            short: 'difference',
            num: true,
            nowrap: true,
            cell: ({ verdict }) => verdict.difference && bandWords(verdict.difference),
          },
          {
            head: 'least shown',
            num: true,
            cell: ({ verdict }) => verdict.least != null && plainUnits(verdict.least),
          },
          { head: 'places', num: true, cell: ({ verdict }) => verdict.places },
        ]}
        rows={zoneRows(gate)}
        id={({ name }) => name}
      />
      <p className="small note">
        {since}. {gate.comparable} of {gate.ofPlaces} places below the water compared, {gate.dryPlaces} dry places
        common to both. Scale units, each above its own day’s dry baseline.
      </p>
      <Explained list={gate.explained} />
    </section>
  )
}

function Said({ verdict }: { verdict: Verdict }) {
  const said = saidOf(verdict)
  const why = verdict.untold[0]
  return (
    <>
      <span className="said">
        <Mark kind={said} />
        {saidWord[said]}
      </span>
      {said === 'untold' && why && <span className="note">{why.text}</span>}
    </>
  )
}

const causes: Record<string, string> = {
  'days-ashore': 'days ashore',
  weather: 'weather',
  coating: 'coating',
  instrument: 'instrument',
}

/** The ordinary things first: what they would make of the hull at large, and whether that covers it. */
function Explained({ list }: { list: readonly Explanation[] }) {
  if (list.length === 0) return null
  return (
    <Table
      caption="Taken first"
      className={`folds pairs ${s.zones}`}
      columns={[
        { head: 'what', names: true, nowrap: true, cell: ({ code }) => causes[code] ?? code },
        { head: 'what is known', short: 'known', cell: ({ text }) => capital(text) },
        {
          head: 'would make',
          num: true,
          nowrap: true,
          cell: ({ expected }) => (expected ? bandWords(expected) : 'cannot be said'),
        },
        {
          head: 'covers it',
          nowrap: true,
          cell: ({ covers }) => (covers == null ? 'cannot be said' : covers ? 'yes' : 'no'),
        },
      ]}
      rows={list}
      id={({ code }) => code}
    />
  )
}
