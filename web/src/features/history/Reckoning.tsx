import { Mark } from '../../figure/marks'
import {
  bandWords,
  type Explanation,
  type Gate,
  plainUnits,
  saidOf,
  saidWord,
  type Zone,
  zoneRows,
} from '../../model/gate'
import { capital } from '../../model/words'
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
  const rows = zoneRows(gate)
  return (
    <section aria-labelledby="zones-head">
      <h2 id="zones-head">What changed, zone by zone</h2>
      <table className={s.zones}>
        <caption className="sr">Verdicts by zone, {since}</caption>
        <thead>
          <tr>
            <th scope="col">zone</th>
            <th scope="col">verdict</th>
            <th scope="col" className="num">
              difference, 95 %
            </th>
            <th scope="col" className="num">
              least shown
            </th>
            <th scope="col" className="num">
              places
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((zone) => (
            <ZoneRow key={zone.name} zone={zone} open={open} onOpen={onOpen} />
          ))}
        </tbody>
      </table>
      <p className="small note">
        {since}. {gate.comparable} of {gate.ofPlaces} places below the water compared, {gate.dryPlaces} dry places
        common to both. Scale units, each above its own day’s dry baseline.
      </p>
      <Explained list={gate.explained} />
    </section>
  )
}

function ZoneRow({ zone, open, onOpen }: { zone: Zone; open: string | null; onOpen: (zone: string | null) => void }) {
  const { name, verdict } = zone
  const said = saidOf(verdict)
  const why = verdict.untold[0]
  return (
    <tr>
      <th scope="row">
        <button
          type="button"
          className="quiet"
          aria-pressed={open === name}
          onClick={() => onOpen(open === name ? null : name)}
        >
          {name}
        </button>
      </th>
      <td>
        <span className="said">
          <Mark kind={said} />
          {saidWord[said]}
        </span>
        {said === 'untold' && why && <span className="small note">{why.text}</span>}
      </td>
      <td className="num nowrap">{verdict.difference && bandWords(verdict.difference)}</td>
      <td className="num">{verdict.least != null && plainUnits(verdict.least)}</td>
      <td className="num">{verdict.places}</td>
    </tr>
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
    <table className={s.zones}>
      <caption>Taken first</caption>
      <thead>
        <tr>
          <th scope="col">what</th>
          <th scope="col">what is known</th>
          <th scope="col" className="num">
            would make
          </th>
          <th scope="col">covers it</th>
        </tr>
      </thead>
      <tbody>
        {list.map(({ code, text, expected, covers }) => (
          <tr key={code}>
            <th scope="row">{causes[code] ?? code}</th>
            <td>{capital(text)}</td>
            <td className="num nowrap">{expected ? bandWords(expected) : ''}</td>
            <td>{covers == null ? 'cannot be said' : covers ? 'yes' : 'no'}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
