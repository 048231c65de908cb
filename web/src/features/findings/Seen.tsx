import { useState } from 'react'
import { useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Mark } from '../../figure/marks'
import { type FragmentType, read } from '../../graphql/gen'
import {
  type FindingCardFragment,
  FindingCardFragmentDoc,
  LookAgainDocument,
  PhotosOfPlaceDocument,
  type PhotosOfPlaceQuery,
  type VisitPageQuery,
} from '../../graphql/gen/graphql'
import { dayIn, shortDay } from '../../model/dates'
import { outlineOf, sayOutline } from '../../model/outline'
import { type PlaceNames, placeName } from '../../model/places'
import { capital, metres, plural } from '../../model/words'
import { Sure } from '../../ui/Grade'
import { AddWindow } from './AddWindow'
import { FindingSheet } from './FindingSheet'
import s from './findings.module.css'
import { usePlaces } from './usePlaces'

type Windows = NonNullable<VisitPageQuery['visit']>['windows']
type Writing = { finding?: FindingCardFragment; again?: FindingCardFragment } | null

/** What a visit saw, heard, smelt and opened, with what was measured of it; and what earlier visits ask to be looked at again. */
export function Seen({
  visit,
}: {
  visit: {
    id: string
    vessel: { id: string }
    findings: readonly FragmentType<typeof FindingCardFragmentDoc>[]
    windows: Windows
  }
}) {
  const findings = read(FindingCardFragmentDoc, visit.findings)
  const [writing, write] = useState<Writing>(null)
  const { places } = usePlaces(visit.vessel.id, true)
  return (
    <section>
      <h2>Seen and opened</h2>
      {findings.length + visit.windows.length === 0 && (
        <p className="note" style={{ borderTop: '1px solid', paddingTop: 7 }}>
          Nothing written down. Look in raking light before the meter comes out; blisters show best wet.
        </p>
      )}
      {findings.map((finding) => (
        <FindingCard key={finding.id} finding={finding} places={places} onEdit={() => write({ finding })} />
      ))}
      <WindowTable windows={visit.windows} />
      <Allowed to="writeVisit">
        <div className="buttons" style={{ marginTop: 12 }}>
          <button type="button" className="plain" onClick={() => write({})}>
            Write down a finding
          </button>
          <AddWindow visit={visit.id} vessel={visit.vessel.id} />
        </div>
      </Allowed>
      <Again visit={visit.id} vessel={visit.vessel.id} places={places} onLook={(again) => write({ again })} />
      {writing && (
        <FindingSheet
          visit={visit.id}
          vessel={visit.vessel.id}
          {...writing}
          others={findings.filter(({ id }) => id !== writing.finding?.id)}
          onClose={() => write(null)}
        />
      )}
    </section>
  )
}

function FindingCard({
  finding,
  places,
  onEdit,
}: {
  finding: FindingCardFragment
  places: PlaceNames
  onEdit: () => void
}) {
  return (
    <article className={s.finding}>
      <header>
        <h3>{capital(finding.kind)}</h3>
        <Sure word={finding.sure} />
        {finding.lookAgain && <span className="note">look again</span>}
        <Allowed to="writeVisit">
          <button type="button" className="quiet push" onClick={onEdit} aria-label={`Put right: ${finding.kind}`}>
            Put right
          </button>
        </Allowed>
      </header>
      <p className="note">{whereIt(finding, places)}</p>
      {finding.text && <p className="measure">{finding.text}</p>}
      {finding.facts.length + finding.derived.length > 0 && (
        <dl className="facts">
          {[...finding.facts, ...finding.derived].map(({ name, is }, k) => (
            <div key={name} style={{ display: 'contents' }}>
              <dt>
                {name}
                {k >= finding.facts.length && <i> derived</i>}
              </dt>
              <dd>{is}</dd>
            </div>
          ))}
        </dl>
      )}
    </article>
  )
}

function whereIt(finding: FindingCardFragment, places: PlaceNames): string {
  return [
    ...finding.places.map((place) => placeName(places, place)),
    sayOutline(outlineOf(finding.side, finding.outline)),
    finding.otherFace && 'also found from the other face',
    finding.againOf && 'looked at again',
  ]
    .filter(Boolean)
    .join(' · ')
}

function WindowTable({ windows }: { windows: Windows }) {
  const area = windows.reduce((sum, { widthMm, heightMm }) => sum + widthMm * heightMm, 0) / 1e6
  if (windows.length === 0) return null
  const along = windows.toSorted((a, b) => a.side.localeCompare(b.side) || a.alongMm - b.alongMm || a.downMm - b.downMm)
  return (
    <>
      <table className="folds pairs">
        <caption className="sr">Windows opened</caption>
        <thead>
          <tr>
            <th scope="col">window</th>
            <th scope="col">size</th>
            <th scope="col">bared to</th>
            <th scope="col" className="num">
              blisters seen
            </th>
            <th scope="col">made good</th>
          </tr>
        </thead>
        <tbody>
          {along.map((window) => (
            <tr key={window.id}>
              <th scope="row">
                {window.side} {metres(window.alongMm)}, {metres(window.downMm)} down
              </th>
              <td data-head="size" className="nowrap">
                {window.widthMm} × {window.heightMm} mm
              </td>
              <td data-head="bared to" className="nowrap">
                {window.baredTo}
              </td>
              <td data-head="blisters seen" className="num">
                {window.blistersSeen}
              </td>
              <td data-head="made good">{window.madeGood || 'not yet'}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="small note" style={{ paddingTop: 6 }}>
        <Mark kind="record" /> {plural(windows.length, 'window')}, {area.toFixed(2)} m² together: what is under the rest
        of the coating was not seen.
      </p>
    </>
  )
}

/** What earlier visits marked and nobody has looked at since. */
function Again({
  visit,
  vessel,
  places,
  onLook,
}: {
  visit: string
  vessel: string
  places: PlaceNames
  onLook: (finding: FindingCardFragment) => void
}) {
  const [{ data }] = useQuery({ query: LookAgainDocument, variables: { vessel } })
  const list = (data?.lookAgain ?? [])
    .map((line) => ({ ...line, finding: read(FindingCardFragmentDoc, line.finding) }))
    .filter(({ finding }) => finding.visit !== visit)
  const [{ data: kept }] = useQuery({ query: PhotosOfPlaceDocument, variables: { vessel }, pause: list.length === 0 })
  if (list.length === 0) return null
  return (
    <>
      <h3 className={s.again}>Look again here</h3>
      <ul className={`plain-list ${s.spots}`}>
        {list.map(({ finding, at, timeZone }) => (
          <li key={finding.id}>
            <span>
              <b>{capital(finding.kind)}</b> <span className="note">{whereIt(finding, places)}</span>
              <br />
              <span className="small note">
                {finding.sure}, {shortDay(dayIn(at, timeZone))}. {finding.text}
              </span>
              <Before photo={viewThen(kept?.vessel?.photos ?? [], finding.places, { at, timeZone })} />
            </span>
            <Allowed to="writeVisit">
              <button
                type="button"
                className="plain"
                aria-label={`Looked at: ${finding.kind}`}
                onClick={() => onLook(finding)}
              >
                Looked at
              </button>
            </Allowed>
          </li>
        ))}
      </ul>
    </>
  )
}

type Kept = NonNullable<PhotosOfPlaceQuery['vessel']>['photos'][number]

/** The photo of its places from about that day: the view to take again. */
function viewThen(
  photos: readonly Kept[],
  places: readonly (number | null)[],
  { at, timeZone }: { at: string; timeZone: string },
): Kept | undefined {
  const day = dayIn(at, timeZone)
  return photos.find(
    ({ place, view, takenAt }) =>
      view && place != null && places.includes(place) && takenAt && dayIn(takenAt, timeZone) === day,
  )
}

function Before({ photo }: { photo: Kept | undefined }) {
  if (!photo?.thumb || !photo.view) return null
  return (
    <a href={photo.view} target="_blank" rel="noreferrer" className={s.then}>
      <img src={photo.thumb} alt={photo.alt || photo.caption || 'As it looked then'} loading="lazy" />
      <span className="small note">As it looked then: take the same view again.</span>
    </a>
  )
}
