import { useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { Mark } from '../../figure/marks'
import { PlaceStoryDocument } from '../../graphql/gen/graphql'
import { dayNumber, monthYear } from '../../model/dates'
import { type Gate, placeWords, plainUnits, saidWord, verdictAt } from '../../model/gate'
import {
  comparable,
  edgesOf,
  isUnread,
  isVoid,
  nameOf,
  readOf,
  type Said,
  type Spot,
  said,
  signedUnits,
  sounding,
} from '../../model/history'
import { tenths } from '../../model/number'
import { type Behind, lies } from '../../model/statements'
import { capital, standingWord } from '../../model/words'
import { unreachedBecause } from './pins'
import type { Pass, Photo } from './ResurveyView'
import s from './resurvey.module.css'
import { Story } from './Story'
import type { VisitStory } from './useVisits'

/** One place, all its readings: as read, above each day's own baseline, and how each pass stands. */
export function PlacePanel({
  spot,
  spots,
  passes,
  now,
  then,
  contrastEdges,
  behind,
  visit,
  photos,
  onChoose,
}: {
  spot: Spot
  spots: readonly Spot[]
  passes: readonly Pass[]
  now: Pass
  then: Pass | null
  contrastEdges: readonly number[]
  behind: readonly Behind[]
  /** What was noted at the visit that the page shows. */
  visit: VisitStory | null
  photos: readonly Photo[]
  onChoose: (spot: Spot) => void
}) {
  const it = said(now, spot.slot)
  const mirror = spot.mirror === null ? null : (spots[spot.mirror] ?? null)
  const [{ data, error }, again] = useQuery({ query: PlaceStoryDocument, variables: { id: spot.id } })
  const place = data?.place?.id === spot.id ? data.place : null
  const reading = place?.readings.find(({ pass, current, occasion }) => pass === now.id && current && occasion === 1)
  const all = passes.filter((pass) => pass.values[spot.slot] != null || isUnread(said(pass, spot.slot)))
  const rows = weekly(all, [now.id, then?.id])
  const top = Math.max(
    30,
    10 * Math.ceil(Math.max(0, ...all.map((pass) => (said(pass, spot.slot).contrast ?? 0) / 200))),
  )
  const over = behind.filter((thing) => lies(spot, thing)).map(({ what }) => `${what} behind`)
  const because = unreachedBecause(visit, now.id, spot)
  return (
    <section className={s.place} aria-label={capital(nameOf(spot))} id="place">
      <header>
        <h2>{capital(nameOf(spot))}</h2>
        <Sounding it={it} />
      </header>
      <p className="small note">
        {spot.along.toFixed(2)} m forward of the aft perpendicular, {Math.abs(spot.down).toFixed(2)} m{' '}
        {spot.down < 0 ? 'above the waterline' : 'down the skin'}
        {over.length > 0 && ` · ${over.join(', ')}`}
      </p>
      <p className={`small ${s.facts}`}>
        {isUnread(it) && <>Not reached{because && `: ${because}`} · </>}
        {reading && reading.placements.length > 1 && (
          <>Placements {reading.placements.map((v) => tenths(v ?? 0)).join(', ')} · </>
        )}
        {it.contrast !== null && (
          <>
            <b>{signedUnits(it.contrast)}</b> above baseline ·{' '}
          </>
        )}
        {mirror ? (
          <>
            mirror{' '}
            <button type="button" className="quiet words" onClick={() => onChoose(mirror)}>
              {nameOf(mirror)}
            </button>
            : <b>{readOf(said(now, mirror.slot))}</b>
          </>
        ) : (
          'no mirror place within 100 mm'
        )}
      </p>
      {then?.gate && <PlaceSaid gate={then.gate} slot={spot.slot} />}
      <table>
        <caption className="sr">Readings at {nameOf(spot)}, newest first</caption>
        <thead>
          <tr>
            <th scope="col">visit</th>
            <th scope="col" className="num">
              read
            </th>
            <th scope="col" className="num">
              above
            </th>
            <th scope="col" className={s.dots}>
              <Scale top={top} />
            </th>
            <th scope="col" className={s.since}>
              since
            </th>
            <th scope="col">standing</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ pass, more }) => (
            <Row
              key={pass.id}
              pass={pass}
              more={more}
              slot={spot.slot}
              it={said(pass, spot.slot)}
              top={top}
              now={now}
              edges={contrastEdges}
            />
          ))}
          {rows.length === 0 && (
            <tr>
              <td colSpan={6} className="wet">
                never read
              </td>
            </tr>
          )}
        </tbody>
      </table>
      {error && <Failed error={error} again={again} />}
      <Story place={place} spot={spot} passes={passes} now={now} photos={photos} behind={over} />
    </section>
  )
}

/**
 * Newest first; of passes by one instrument within the week the newest stands for all, the one set beside excepted.
 * Every one of them is in the whole story.
 */
function weekly(passes: readonly Pass[], kept: readonly (string | undefined)[]) {
  const rows: { pass: Pass; more: number }[] = []
  for (const pass of [...passes].reverse()) {
    const over = rows.at(-1)
    const like =
      over && over.pass.instrument?.id === pass.instrument?.id && dayNumber(over.pass.on) - dayNumber(pass.on) <= 7
    if (!like || over.pass.id === passes.at(-1)?.id) rows.push({ pass, more: 0 })
    else {
      if (kept.includes(pass.id)) over.pass = pass
      over.more++
    }
  }
  return rows
}

/** What may be said of the place between the two passes, its doubt beside it. */
function PlaceSaid({ gate, slot }: { gate: Gate; slot: number }) {
  const told = verdictAt(gate, slot)
  if (!told) return null
  return (
    <p className={`small ${s.facts}`}>
      <span className="said">
        <Mark kind={told.said} />
        {saidWord[told.said]}
      </span>
      {told.by !== null && <>: {placeWords(told)}</>}
      {told.least !== null && <> · least change shown {plainUnits(told.least / 20)}</>}
      {told.why && <span className="note"> · {told.why}</span>}
    </p>
  )
}

function Sounding({ it }: { it: Said }) {
  const figure = sounding(it)
  if (isVoid(it) || !figure) return <p className={s.big}>{isUnread(it) ? <Mark kind="unread" /> : readOf(it)}</p>
  return (
    <p className={s.big}>
      {figure.whole}
      <sub>
        <span className="sr">.</span>
        {figure.tenth}
      </sub>
    </p>
  )
}

function Row({
  pass,
  more,
  slot,
  it,
  top,
  now,
  edges,
}: {
  pass: Pass
  more: number
  slot: number
  it: Said
  top: number
  now: Pass
  edges: readonly number[]
}) {
  const compared = comparable(pass.standing)
  const above = compared && it.contrast !== null && !isVoid(it)
  return (
    <tr>
      <td className="nowrap">
        {monthYear(pass.on)}
        {more > 0 && <span className={`note ${s.more}`}> and {more} more</span>}
      </td>
      <td className="num">{readOf(it, pass.standing === 'quoted')}</td>
      <td className="num">{above && signedUnits(it.contrast ?? 0)}</td>
      <td className={s.dots}>
        {isUnread(it) ? (
          <span className="note wet">not reached</span>
        ) : isVoid(it) ? (
          <span className="note wet">void</span>
        ) : above ? (
          <Dot
            contrast={(it.contrast ?? 0) / 20}
            top={top}
            first={edgesOf(pass, edges)?.[0] ?? 0}
            pass={pass}
            now={now}
          />
        ) : (
          <span className="note wet">shown, not compared</span>
        )}
      </td>
      <td className={s.since}>{pass.gate && <Since gate={pass.gate} slot={slot} />}</td>
      <td>
        <span className="said">
          {pass.standing !== 'reference' && <Mark kind={pass.standing} />}
          {pass.standing === 'reference' && pass.state === 'open' ? 'today' : standingWord[pass.standing]}
        </span>
      </td>
    </tr>
  )
}

/** The verdict against the pass held, as its mark and amount. */
function Since({ gate, slot }: { gate: Gate; slot: number }) {
  const told = verdictAt(gate, slot)
  if (!told || gate.comparable === 0) return null
  return (
    <span className="nowrap" title={placeWords(told)}>
      <Mark kind={told.said} label={saidWord[told.said]} /> {told.by !== null && signedUnits(told.by)}
    </span>
  )
}

const wide = 112
const x = (value: number, top: number) => 6 + (Math.max(-1.5, value) * (wide - 12)) / top

function Scale({ top }: { top: number }) {
  const ticks = Array.from({ length: top / 10 + 1 }, (_, i) => i * 10).filter((t) => top <= 40 || t % 20 === 0)
  return (
    <svg
      width={wide}
      height="14"
      viewBox={`0 0 ${wide} 14`}
      role="img"
      aria-label="above the dry baseline, in scale units"
    >
      {ticks.map((tick) => (
        <g key={tick}>
          <text x={x(tick, top)} y="9" textAnchor="middle" fontSize="11" fill="var(--ink-2)">
            {tick}
          </text>
          <path d={`M${x(tick, top)} 11v3`} stroke="var(--ink)" />
        </g>
      ))}
    </svg>
  )
}

/** A point on the line of contrasts; the land beside nought is the scatter of that day's own baseline. */
function Dot({
  contrast,
  top,
  first,
  pass,
  now,
}: {
  contrast: number
  top: number
  first: number
  pass: Pass
  now: Pass
}) {
  const cx = x(contrast, top)
  return (
    <svg width={wide} height="15" viewBox={`0 0 ${wide} 15`} aria-hidden="true">
      <rect x={x(0, top)} width={Math.max(0, x(first, top) - x(0, top))} height="15" fill="var(--land)" />
      <path d={`M${x(0, top)} 0v15`} stroke="var(--ink)" />
      {pass.id === now.id ? (
        <path d={`M${cx - 6} 7.5l6-6 6 6-6 6z`} fill="var(--accent)" />
      ) : pass.standing === 'alike' ? (
        <>
          <circle cx={cx} cy="7.5" r="3.8" fill="var(--ground)" stroke="var(--ink)" strokeWidth="1.3" />
          <path d={`M${cx} 3.7a3.8 3.8 0 0 1 0 7.6z`} fill="var(--ink)" />
        </>
      ) : (
        <circle cx={cx} cy="7.5" r="4.3" fill="var(--ink)" />
      )}
    </svg>
  )
}
