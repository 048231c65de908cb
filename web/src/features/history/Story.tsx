import { useState } from 'react'
import { Failed } from '../../app/Fault'
import type { PlaceStoryQuery } from '../../graphql/gen/graphql'
import { dayIn, shortDay, visitDay } from '../../model/dates'
import { nameOf, type Spot, said, signedUnits, units } from '../../model/history'
import { surfaced } from '../../model/kinds'
import { tenths } from '../../model/number'
import { ashoreWords, capital, plural } from '../../model/words'
import { Sheet } from '../../ui/Sheet'
import { Table } from '../../ui/Table'
import { instrumentOf } from './context'
import { PutRight } from './PutRight'
import type { Pass, Photo } from './ResurveyView'
import s from './resurvey.module.css'
import { useVisits, type VisitStory } from './useVisits'

type Place = NonNullable<PlaceStoryQuery['place']>
export type Reading = Place['readings'][number]

/** Everything ever read, seen and photographed at a place, by whom and with what; and the way to put a reading right. */
export function Story({
  place,
  spot,
  passes,
  now,
  photos,
  behind,
}: {
  /** Null until its readings have come. */
  place: Place | null
  spot: Spot
  passes: readonly Pass[]
  now: Pass
  photos: readonly Photo[]
  behind: readonly string[]
}) {
  const [open, setOpen] = useState(false)
  const { visits, lacking } = useVisits([...new Set(passes.map(({ visit }) => visit))], open)
  const current = place?.readings.find((r) => r.pass === now.id && r.current && r.occasion === 1)
  return (
    <>
      <button type="button" className="quiet" onClick={() => setOpen(true)}>
        the whole story: readings, hands, findings{photos.length > 0 && `, ${plural(photos.length, 'photograph')}`}
      </button>
      <Sheet title={capital(nameOf(spot))} open={open} onClose={() => setOpen(false)} wide>
        <div className={s.story}>
          {behind.length > 0 && <p className="wet">{capital(behind.join(', '))}.</p>}
          {place && <Readings readings={place.readings} spot={spot} passes={passes} />}
          {!place && <p className="note">The readings taken here have not come yet.</p>}
          {lacking && <Failed {...lacking} />}
          <Seen visits={visits} whole={!lacking} spot={spot} />
        </div>
        <Photographs photos={photos} />
        {current && <PutRight key={current.id} reading={current} pass={now} />}
      </Sheet>
    </>
  )
}

function Readings({ readings, spot, passes }: { readings: readonly Reading[]; spot: Spot; passes: readonly Pass[] }) {
  const of = (r: Reading) => passes.find(({ id }) => id === r.pass)
  const above = (r: Reading) => {
    const pass = of(r)
    const contrast = pass && r.current && r.occasion === 1 ? said(pass, spot.slot).contrast : null
    return contrast === null || pass?.standing === 'unlike' || pass?.standing === 'quoted' ? '' : signedUnits(contrast)
  }
  return (
    <Table
      caption="Every reading taken here, newest first"
      columns={[
        { head: 'taken', names: true, nowrap: true, cell: (r) => of(r) && shortDay(of(r)?.on ?? '') },
        { head: 'by', nowrap: true, cell: (r) => of(r)?.hand || 'not stated' },
        {
          head: 'with',
          cell: (r) => {
            const pass = of(r)
            return pass && `${instrumentOf(pass)}, ${ashoreWords(pass)}`
          },
        },
        { head: 'on', cell: (r) => surfaced(r.surface || of(r)?.surface || '') || 'not noted' },
        {
          head: 'placements',
          cell: (r) => r.asWritten || r.placements.map((v) => tenths(v ?? 0)).join(', '),
        },
        { head: 'read', num: true, cell: (r) => r.asWritten || units(r.value) },
        { head: 'above', num: true, cell: above },
        { head: 'what else', cell: stands },
      ]}
      rows={[...readings].reverse()}
      id={(r) => r.id}
    />
  )
}

function stands(r: Reading): string {
  return [
    r.voidReason && `void: ${r.voidReason}`,
    !r.current && !r.voidReason && 'no longer',
    r.supersession && `${r.supersession === 'correct' ? 'corrected' : 'read anew'}: ${r.supersessionReason}`,
    r.occasion > 1 && `repeat, occasion ${r.occasion}`,
    r.knownBefore && 'the hand had seen the earlier value',
    r.followUp && 'follow up inside',
    r.printedIn && `printed in ${r.printedIn}`,
  ]
    .filter(Boolean)
    .join('; ')
}

/** Metres within which a window has bared the skin that was read. */
const near = 0.35

/** What was found at the place, bared beside it, and why it was once not reached. */
function Seen({ visits, whole, spot }: { visits: readonly VisitStory[] | null; whole: boolean; spot: Spot }) {
  if (!visits) return <p className="note">Reading what was found at each visit …</p>
  const rows = visits
    .flatMap((visit) => seenAt(visit, spot).map((seen) => ({ ...seen, visit })))
    .sort((a, b) => b.visit.from.localeCompare(a.visit.from))
  if (rows.length === 0 && !whole) return null
  if (rows.length === 0) return <p className={s.none}>Nothing was found, opened or bared at this place.</p>
  return (
    <Table
      caption={whole ? 'Found and bared here' : 'Found and bared here, as far as it came'}
      columns={[
        {
          head: 'visit',
          names: true,
          nowrap: true,
          cell: (r) => visitDay(dayIn(r.visit.from, r.visit.timeZone), r.visit),
        },
        { head: 'by', nowrap: true, cell: (r) => r.visit.lead?.name ?? '' },
        { head: 'what', cell: (r) => r.what },
        { head: 'how sure', cell: (r) => r.sure },
        { head: 'in words', cell: (r) => r.text },
      ]}
      rows={rows}
      id={(r) => r.id}
    />
  )
}

function seenAt(visit: VisitStory, spot: Spot) {
  const here = spot.slot + 1
  return [
    ...visit.findings
      .filter(({ places }) => places.includes(here))
      .map(({ id, kind, sure, text, lookAgain }) => ({
        id,
        what: kind,
        sure,
        text: lookAgain ? `${text} Look again.` : text,
      })),
    ...visit.windows
      .filter(
        ({ side, alongMm, downMm }) =>
          side === spot.side && Math.hypot(alongMm / 1000 - spot.along, downMm / 1000 - spot.down) <= near,
      )
      .map(({ id, alongMm, downMm, widthMm, heightMm, baredTo, blistersSeen, madeGood }) => ({
        id,
        what: `window, ${widthMm} × ${heightMm} mm`,
        sure: 'seen',
        text: [
          `Bared to ${baredTo}, ${Math.round(1000 * Math.hypot(alongMm / 1000 - spot.along, downMm / 1000 - spot.down))} mm away; ${blistersSeen || 'no'} ${blistersSeen === 1 ? 'blister' : 'blisters'} seen.`,
          madeGood && `Made good: ${madeGood}.`,
        ]
          .filter(Boolean)
          .join(' '),
      })),
    ...visit.passes.flatMap(({ notReached }) =>
      notReached
        .filter(({ place }) => place === here)
        .map(({ id, reason }) => ({ id, what: 'not reached', sure: 'seen', text: reason })),
    ),
  ]
}

function Photographs({ photos }: { photos: readonly Photo[] }) {
  if (photos.length === 0) return null
  return (
    <ul className={s.photos}>
      {photos.map(({ id, caption, takenAt, thumb, view }) => (
        <li key={id}>
          <figure>
            {thumb && (
              <a href={view ?? thumb} target="_blank" rel="noreferrer">
                <img src={thumb} alt={caption} loading="lazy" />
              </a>
            )}
            <figcaption className="small">
              {caption}
              {takenAt && <span className="note">, {shortDay(takenAt)}</span>}
            </figcaption>
          </figure>
        </li>
      ))}
    </ul>
  )
}
