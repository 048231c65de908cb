import { type ChangeEvent, type FormEvent, useState } from 'react'
import { type CombinedError, useClient, useMutation } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { type FragmentType, read } from '../../graphql/gen'
import {
  AddPhotoDocument,
  EditPhotoDocument,
  type PhotoCardFragment,
  PhotoCardFragmentDoc,
} from '../../graphql/gen/graphql'
import { upload } from '../../graphql/upload'
import { timeIn } from '../../model/dates'
import { newId } from '../../model/id'
import { parsePlaces, placeName } from '../../model/places'
import { plural } from '../../model/words'
import { TextArea, TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import s from './findings.module.css'
import { usePlaces } from './usePlaces'

/** What is read out in a picture's place. The caption stands beside it and is not said twice. */
const spoken = ({ alt, caption }: PhotoCardFragment) =>
  alt && alt !== caption ? alt : caption ? '' : 'Photo without a caption'

const kinds = ['image/jpeg', 'image/png', 'image/webp', 'image/heic']

interface Props {
  visit: {
    id: string
    timeZone: string
    vessel: { id: string }
    photos: readonly FragmentType<typeof PhotoCardFragmentDoc>[]
  }
  again: () => void
}

/** The photos of a visit: kept as taken, shown as copies without where and with what they were taken. */
export function Photos({ visit, again }: Props) {
  const photos = read(PhotoCardFragmentDoc, visit.photos)
  const [chosen, choose] = useState<string | null>(null)
  const shown = photos.find(({ id }) => id === chosen)
  const { places } = usePlaces(visit.vessel.id, photos.some(({ place }) => place != null) || chosen !== null)
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
                <span className={s.absent}>{photo.state === 'refused' ? 'cannot be shown' : 'being made ready'}</span>
              )}
              <span className={s.caption}>{photo.caption || <i>no caption</i>}</span>
            </button>
            <span className="small note">
              {[
                placeName(places, photo.place),
                photo.takenAt && timeIn(photo.takenAt, visit.timeZone),
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
        <EditPhoto
          key={`${shown.id}/${shown.version}/${places.ids.length}`}
          photo={shown}
          places={places}
          onClose={() => choose(null)}
        />
      )}
    </section>
  )
}

/** Several at once, from the camera of a phone or from files; each is told on its own if it cannot be kept. */
function AddPhotos({ visit, vessel, onDone }: { visit: string; vessel: string; onDone: () => void }) {
  const client = useClient()
  const [left, setLeft] = useState(0)
  const [faults, setFaults] = useState<string[]>([])

  async function add(event: ChangeEvent<HTMLInputElement>) {
    const files = [...(event.target.files ?? [])]
    event.target.value = ''
    setFaults([])
    setLeft(files.length)
    for (const file of files) {
      const fault = await one(file).catch((error: unknown) => said(error))
      if (fault) setFaults((now) => [...now, `${file.name}: ${fault}`])
      setLeft((n) => n - 1)
    }
    onDone()
  }

  async function one(file: File): Promise<string | null> {
    if (!kinds.includes(file.type)) return 'no photo that can be kept. JPEG, PNG, WebP and HEIC can.'
    const id = await upload(client, file, 'photo', file.type)
    const { error } = await client
      .mutation(AddPhotoDocument, {
        input: {
          mutation: newId('mut'),
          id: newId('pho'),
          upload: id,
          vessel,
          visit,
          takenAt: new Date(file.lastModified).toISOString(),
        },
      })
      .toPromise()
    return error ? said(error) : null
  }

  return (
    <div className={s.add}>
      {faults.map((fault) => (
        <Notice bad key={fault}>
          {fault}
        </Notice>
      ))}
      <label className="plain">
        Add photos
        <input type="file" accept={kinds.join(',')} multiple className="sr" onChange={add} disabled={left > 0} />
      </label>
      <span role="status" className="small note">
        {left > 0 && `${plural(left, 'photo')} still to be sent`}
      </span>
    </div>
  )
}

const said = (error: unknown) => {
  const of = error as Partial<CombinedError> | undefined
  return of?.graphQLErrors?.[0]?.message ?? (error instanceof Error ? error.message : String(error))
}

function EditPhoto({
  photo,
  places,
  onClose,
}: {
  photo: PhotoCardFragment
  places: Parameters<typeof parsePlaces>[1]
  onClose: () => void
}) {
  const [caption, setCaption] = useState(photo.caption)
  const [alt, setAlt] = useState(photo.alt)
  const [at, setAt] = useState(placeName(places, photo.place))
  const [printed, setPrinted] = useState(photo.printed)
  const [wrong, setWrong] = useState<string | undefined>()
  const [{ fetching, error }, edit] = useMutation(EditPhotoDocument)

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
      },
    })
    if (data) onClose()
  }

  return (
    <Sheet title={photo.caption || 'A photo'} open onClose={onClose} wide>
      {photo.view && <img className={s.view} src={photo.view} alt={photo.alt || photo.caption || 'The photo'} />}
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
    </Sheet>
  )
}
