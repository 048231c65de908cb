import { type ChangeEvent, useEffect, useState } from 'react'
import { type CombinedError, useClient } from 'urql'
import { AddPhotoDocument } from '../../graphql/gen/graphql'
import { StoreAway, upload } from '../../graphql/upload'
import { clockAhead, sayAhead, takenBy } from '../../model/exif'
import { newId } from '../../model/id'
import { plural } from '../../model/words'
import { TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import s from './findings.module.css'

const kinds = ['image/jpeg', 'image/png', 'image/webp', 'image/heic']
const kindOf = (file: File) => file.type || (/\.hei[cf]$/i.test(file.name) ? 'image/heic' : '')

/** A photo on its way. What has been reached stays reached: sent again, it is kept once. */
interface Sending {
  readonly file: File
  readonly mutation: string
  readonly photo: string
  original?: string
  device?: string | null
}
const begin = (file: File): Sending => ({ file, mutation: newId('mut'), photo: newId('pho') })

/** Seconds until what waits is sent again, the last of them for ever. */
const patience = [3, 6, 12, 25]

/**
 * Several at once, from the camera of a phone or from a camera's card. Each is told on its own if it cannot be kept;
 * one that the store did not take waits here and is sent again by itself.
 */
export function AddPhotos({ visit, vessel, onDone }: { visit: string; vessel: string; onDone: () => void }) {
  const client = useClient()
  const [left, setLeft] = useState(0)
  const [faults, setFaults] = useState<string[]>([])
  const [unseen, setUnseen] = useState<string[]>([])
  const [waiting, setWaiting] = useState<Sending[]>([])
  const [tries, setTries] = useState(0)
  const [ahead, setAhead] = useState<number | null>(null)
  const [stopped, setStopped] = useState<Sending[]>([])
  const [why, setWhy] = useState('')

  async function send(photos: readonly Sending[]) {
    setFaults([])
    setUnseen([])
    setWaiting([])
    setStopped([])
    setLeft(photos.length)
    const stay: Sending[] = []
    for (const photo of photos) {
      try {
        const fault = await one(photo)
        if (fault) setFaults((now) => [...now, `${photo.file.name}: ${fault}`])
      } catch (error) {
        if (away(error)) stay.push(photo)
        else if (withoutLeave(error)) {
          setStopped((now) => [...now, photo])
          setFaults((now) => (now.includes(said(error)) ? now : [...now, said(error)]))
        } else setFaults((now) => [...now, `${photo.file.name}: ${said(error)}`])
      }
      setLeft((n) => n - 1)
    }
    setTries((n) => (stay.length < photos.length ? 0 : n + 1))
    setWaiting(stay)
    if (stay.length < photos.length) onDone()
  }

  // biome-ignore lint/correctness/useExhaustiveDependencies: what waits is sent once more for each list of it
  useEffect(() => {
    if (waiting.length === 0) return
    const again = () => void send(waiting)
    const timer = setTimeout(again, 1000 * (patience[Math.min(tries, patience.length) - 1] ?? patience[0] ?? 3))
    window.addEventListener('online', again)
    return () => {
      clearTimeout(timer)
      window.removeEventListener('online', again)
    }
  }, [waiting])

  async function one(photo: Sending): Promise<string | null> {
    const { file } = photo
    const kind = kindOf(file)
    if (!kinds.includes(kind)) return 'no photo that can be kept. JPEG, PNG, WebP and HEIC can.'
    photo.original ??= await upload(client, file, 'photo', kind)
    if (photo.device === undefined) {
      const shown = kind === 'image/heic' ? await jpegOf(file) : null
      photo.device = shown && (await upload(client, shown, 'photo', 'image/jpeg'))
    }
    const { error } = await client
      .mutation(AddPhotoDocument, {
        input: {
          mutation: photo.mutation,
          id: photo.photo,
          upload: photo.original,
          device: photo.device,
          vessel,
          visit,
          takenAt: (await takenAt(file, ahead ?? 0)).toISOString(),
          clockAhead: ahead,
          unasked: why.trim() ? { reason: why.trim() } : null,
        },
      })
      .toPromise()
    if (error) throw error
    if (photo.device === null && kind === 'image/heic') setUnseen((now) => [...now, file.name])
    return null
  }

  return (
    <div className={s.add}>
      {faults.map((fault) => (
        <Notice bad key={fault}>
          {fault}
        </Notice>
      ))}
      {unseen.length > 0 && (
        <Notice>
          <b>{unseen.join(', ')}:</b> kept as it came, but this browser cannot open HEIC, so there is no picture of it
          to show or to print. Send it from the phone that took it, or send the same photo as a JPEG.
        </Notice>
      )}
      {waiting.length > 0 && (
        <Notice>
          <b>{plural(waiting.length, 'photo')} waiting:</b> the store of files does not answer. Everything else is kept;
          leave this page open, and they are sent again by themselves, or{' '}
          <button type="button" className="quiet" onClick={() => send(waiting)}>
            send them now
          </button>
        </Notice>
      )}
      {stopped.length > 0 && (
        <>
          <TextField
            label={`${plural(stopped.length, 'photo')} taken already: why without leave`}
            value={why}
            onChange={(event) => setWhy(event.target.value)}
            help="They are kept with a mark, this reason and your name."
            autoComplete="off"
          />
          <button type="button" className="plain" disabled={!why.trim()} onClick={() => send(stopped)}>
            Keep them with this reason
          </button>
        </>
      )}
      <label className="plain">
        Add photos
        <input
          type="file"
          accept={[...kinds, '.heic', '.heif'].join(',')}
          multiple
          className="sr"
          disabled={left > 0}
          onChange={(event) => {
            const files = [...(event.target.files ?? [])]
            event.target.value = ''
            send([...waiting, ...files.map(begin)])
          }}
        />
      </label>
      <span role="status" className="small note">
        {left > 0 && `${plural(left, 'photo')} still to be sent`}
      </span>
      <Clock ahead={ahead} onAhead={setAhead} />
    </div>
  )
}

/** A camera's card: its clock is set right by a photo that it took of the phone's. */
function Clock({ ahead, onAhead }: { ahead: number | null; onAhead: (seconds: number | null) => void }) {
  const [camera, setCamera] = useState<Date | null>(null)
  const [shown, setShown] = useState('')
  const [wrong, setWrong] = useState<string | undefined>()

  async function look(event: ChangeEvent<HTMLInputElement>) {
    const file = event.target.files?.[0]
    event.target.value = ''
    const taken = file ? takenBy(await file.arrayBuffer()) : null
    setCamera(taken)
    setWrong(file && !taken ? 'This photo does not say when it was taken.' : undefined)
  }

  return (
    <details className={s.card}>
      <summary>From a camera’s card{ahead !== null && `: its clock ${sayAhead(ahead)}`}</summary>
      <p className="small note">
        Photograph the phone’s clock with the camera, choose that photo, and type what the clock shows on it. The time
        of each photo is put right by the difference; the photo itself stays as taken.
      </p>
      <label className="plain">
        Photo of the phone’s clock
        <input type="file" accept="image/jpeg" className="sr" onChange={look} />
      </label>
      {camera && (
        <p className="small">
          The camera says {camera.toLocaleTimeString('en-GB')}, {camera.toLocaleDateString('en-GB')}.
        </p>
      )}
      <TextField
        label="The clock on it shows"
        placeholder="14:05:30"
        value={shown}
        error={wrong}
        onChange={(event) => {
          setShown(event.target.value)
          const seconds = camera && clockAhead(camera, event.target.value)
          onAhead(seconds ?? null)
        }}
      />
    </details>
  )
}

/** What the photo says of itself, put right by the camera's clock; else when the file was last written. */
async function takenAt(file: File, ahead: number): Promise<Date> {
  const taken = kindOf(file) === 'image/jpeg' ? takenBy(await file.slice(0, 262_144).arrayBuffer()) : null
  return taken ? new Date(taken.getTime() - ahead * 1000) : new Date(file.lastModified)
}

/** A JPEG of an original that few programs open, where this device can; null where it cannot. */
async function jpegOf(file: File): Promise<File | null> {
  try {
    const picture = await createImageBitmap(file)
    const canvas = document.createElement('canvas')
    canvas.width = picture.width
    canvas.height = picture.height
    canvas.getContext('2d')?.drawImage(picture, 0, 0)
    const blob = await new Promise<Blob | null>((made) => canvas.toBlob(made, 'image/jpeg', 0.92))
    return blob && new File([blob], `${file.name}.jpg`, { type: 'image/jpeg', lastModified: file.lastModified })
  } catch {
    return null
  }
}

const said = (error: unknown) => {
  const of = error as Partial<CombinedError> | undefined
  return of?.graphQLErrors?.[0]?.message ?? (error instanceof Error ? error.message : String(error))
}

/** Nothing answered, or what answered asks for patience: worth sending again. */
function away(error: unknown): boolean {
  const of = error as Partial<CombinedError> | undefined
  if (of?.graphQLErrors?.length) return of.graphQLErrors.some((each) => each.extensions?.code === 'UNAVAILABLE')
  return Boolean(of?.networkError) || error instanceof TypeError || error instanceof StoreAway
}

const withoutLeave = (error: unknown) =>
  (error as CombinedError)?.graphQLErrors?.some(({ extensions }) => extensions?.field === 'withoutLeave') ?? false
