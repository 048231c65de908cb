import { type FormEvent, useEffect, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Allowed, useMay } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { type FragmentType, read } from '../../graphql/gen'
import {
  EditPhotoDocument,
  type PhotoCardFragment,
  PhotoCardFragmentDoc,
  PhotosOfPlaceDocument,
} from '../../graphql/gen/graphql'
import { dayIn, here, shortDay, timeIn } from '../../model/dates'
import { newId } from '../../model/id'
import { parsePlaces, placeName } from '../../model/places'
import { TextArea, TextField } from '../../ui/Field'
import { Waiting } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import { AddPhotos } from './AddPhotos'
import { type Drawn, DrawOver } from './DrawOver'
import s from './findings.module.css'
import { usePlaces } from './usePlaces'

/** What is read out in a picture's place. The caption stands beside it and is not said twice. */
const spoken = ({ alt, caption }: PhotoCardFragment) =>
  alt && alt !== caption ? alt : caption ? '' : 'Photo without a caption'

/** Why a photo has no picture yet, or never will: a HEIC that this service does not open is kept as it came. */
const absent: Record<string, string> = { refused: 'cannot be shown', ready: 'kept as it came, without a picture' }

interface Props {
  visit: {
    id: string
    from: string
    timeZone: string
    vessel: { id: string }
    photos: readonly FragmentType<typeof PhotoCardFragmentDoc>[]
  }
  again: () => void
}

/** The time it was taken, and its day where that is not the visit's: a clock may be wrong, or a card older. */
function takenWords(at: string, { from, timeZone }: { from: string; timeZone: string }) {
  const day = dayIn(at, timeZone)
  return day === dayIn(from, timeZone) ? timeIn(at, timeZone) : `${shortDay(day)}, ${timeIn(at, timeZone)}`
}

/** The photos of a visit: kept as taken, shown as copies without where and with what they were taken. */
export function Photos({ visit, again }: Props) {
  const photos = read(PhotoCardFragmentDoc, visit.photos)
  const [chosen, choose] = useState<string | null>(null)
  const shown = photos.find(({ id }) => id === chosen)
  const {
    places,
    known,
    error,
    again: look,
  } = usePlaces(visit.vessel.id, photos.some(({ place }) => place != null) || chosen !== null)
  const making = photos.some(({ thumb, state }) => !thumb && !(state in absent))
  // A picture is made by a job, in a moment: asked for until it is there.
  useEffect(() => {
    if (!making) return
    const timer = setInterval(again, 2000)
    return () => clearInterval(timer)
  }, [making, again])
  return (
    <section>
      <h2>Photos</h2>
      {photos.length === 0 && (
        <p className="note" style={{ borderTop: '1px solid', paddingTop: 7 }}>
          None yet. Take one of each thing found, with a scale beside it, and one further off that shows where it is.
        </p>
      )}
      <ul className={s.photos}>
        {photos.map((photo) => (
          <li key={photo.id}>
            <button type="button" onClick={() => choose(photo.id)}>
              {photo.thumb ? (
                <img src={photo.thumb} alt={spoken(photo)} loading="lazy" />
              ) : (
                <span className={s.absent}>{absent[photo.state] ?? 'being made ready'}</span>
              )}
              <span className={s.caption}>{photo.caption || <i>no caption</i>}</span>
            </button>
            <span className="small note">
              {[
                placeName(places, photo.place),
                photo.takenAt && takenWords(photo.takenAt, visit),
                !photo.printed && 'not in the report',
                photo.refusedBecause,
              ]
                .filter(Boolean)
                .join(' · ')}
            </span>
          </li>
        ))}
      </ul>
      <Allowed to="writeVisit">
        <AddPhotos visit={visit.id} vessel={visit.vessel.id} onDone={again} />
      </Allowed>
      {shown && (
        <Sheet title={shown.caption || 'A photo'} open onClose={() => choose(null)} wide>
          {error && <Failed error={error} again={look} />}
          {known ? (
            <EditPhoto
              key={`${shown.id}/${shown.version}`}
              photo={shown}
              places={places}
              vessel={visit.vessel.id}
              onClose={() => choose(null)}
            />
          ) : (
            !error && <Waiting />
          )}
        </Sheet>
      )}
    </section>
  )
}

/** The newest earlier photo of a place, to be held beside one of it that was taken on a day. */
function LastTime({ place, takenAt, vessel }: { place: number; takenAt: string | null; vessel: string }) {
  const [{ data }] = useQuery({ query: PhotosOfPlaceDocument, variables: { vessel } })
  const day = takenAt ? dayIn(takenAt, here()) : ''
  const before = (data?.vessel?.photos ?? [])
    .filter((each) => each.place === place && each.view && each.takenAt && dayIn(each.takenAt, here()) < day)
    .sort((a, b) => ((a.takenAt ?? '') < (b.takenAt ?? '') ? 1 : -1))[0]
  if (!before?.view) return null
  return (
    <figure className={s.before}>
      <img className={s.view} src={before.view} alt={before.alt || before.caption || 'The same place before'} />
      <figcaption className="small note">
        The same place before, {before.takenAt && shortDay(before.takenAt)}. {before.caption}
      </figcaption>
    </figure>
  )
}

function EditPhoto({
  photo,
  places,
  vessel,
  onClose,
}: {
  photo: PhotoCardFragment
  vessel: string
  places: Parameters<typeof parsePlaces>[1]
  onClose: () => void
}) {
  const [caption, setCaption] = useState(photo.caption)
  const [alt, setAlt] = useState(photo.alt)
  const [at, setAt] = useState(placeName(places, photo.place))
  const [printed, setPrinted] = useState(photo.printed)
  const [drawn, setDrawn] = useState(photo.drawn as Drawn[])
  const may = useMay('writeVisit')
  const [wrong, setWrong] = useState<string | undefined>()
  const [{ fetching, error }, edit] = useMutation(EditPhotoDocument)
  // As typed and not yet kept: the same view of last time helps to tell whether this is the place.
  const named = parsePlaces(at, places)
  const typed = named.ok && named.ordinals.length === 1 ? named.ordinals[0] : null

  async function send(event: FormEvent) {
    event.preventDefault()
    const found = parsePlaces(at, places)
    const fault = !found.ok ? found.why : found.ordinals.length > 1 ? 'Pin a photo to one place.' : undefined
    setWrong(fault)
    if (fault || !found.ok) return
    const ordinal = found.ordinals[0]
    const { data } = await edit({
      input: {
        mutation: newId('mut'),
        id: photo.id,
        version: photo.version,
        caption: caption.trim(),
        alt: alt.trim(),
        printed,
        place: ordinal ? places.ids[ordinal - 1] : null,
        unpin: !ordinal && photo.place != null,
        drawn,
      },
    })
    if (data) onClose()
  }

  return (
    <>
      {photo.view && (
        <DrawOver
          src={photo.view}
          alt={photo.alt || photo.caption || 'The photo'}
          drawn={drawn}
          onDraw={may ? setDrawn : null}
        />
      )}
      {photo.state === 'ready' && !photo.view && (
        <p className="measure">
          The file is kept as it came. No picture of it could be made, so it is neither shown nor printed: send the same
          photo as a JPEG beside it, from the phone that took it for one.
        </p>
      )}
      {photo.onDevice && (
        <p className="small note">Shown by a JPEG made on the device; the original is kept as it came.</p>
      )}
      {typed != null && <LastTime place={typed} takenAt={photo.takenAt ?? null} vessel={vessel} />}
      <Allowed to="writeVisit">
        <form className={s.form} noValidate onSubmit={send}>
          {error && <Failed error={error} />}
          <TextField label="Caption" value={caption} onChange={(event) => setCaption(event.target.value)} />
          <TextArea
            label="What it shows, for who cannot see it"
            value={alt}
            onChange={(event) => setAlt(event.target.value)}
            help="Read out in its place. The caption stands in where this is empty."
          />
          <TextField
            label="At place"
            placeholder="port 13/3"
            value={at}
            error={wrong}
            onChange={(event) => setAt(event.target.value)}
          />
          <Tick checked={printed} onChange={setPrinted}>
            Print it in the report
          </Tick>
          <div>
            <button type="submit" className="act" disabled={fetching}>
              Keep
            </button>
          </div>
        </form>
      </Allowed>
    </>
  )
}
