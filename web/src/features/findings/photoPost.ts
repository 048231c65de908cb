import { useEffect, useSyncExternalStore } from 'react'
import { type Client, type CombinedError, useClient } from 'urql'
import { useViewer } from '../../app/useViewer'
import { AddPhotoDocument } from '../../graphql/gen/graphql'
import { StoreAway, upload } from '../../graphql/upload'
import { takenBy } from '../../model/exif'
import { newId } from '../../model/id'
import { type Sending, waitingPhotos } from './waitingPhotos'

export const photoKinds = ['image/jpeg', 'image/png', 'image/webp', 'image/heic']
const kindOf = (file: File) => file.type || (/\.hei[cf]$/i.test(file.name) ? 'image/heic' : '')

/** How far a photo has got: waiting for a store that is away, stopped for want of leave, refused for good. */
export interface Posted extends Sending {
  state: 'to send' | 'waiting' | 'stopped' | 'refused' | 'unseen'
  fault: string
  /** Whether this device holds it until it is sent. */
  held: boolean
}

let posted: readonly Posted[] = []
const hearers = new Set<() => void>()
function tell(next: readonly Posted[]) {
  posted = next
  for (const hear of hearers) hear()
}
const change = (photo: string, to: Partial<Posted>) =>
  tell(posted.map((each) => (each.photo === photo ? { ...each, ...to } : each)))
function hear(hearer: () => void) {
  hearers.add(hearer)
  return () => hearers.delete(hearer)
}

/** What is on its way, of every visit. */
export const usePosted = () => useSyncExternalStore(hear, () => posted)

/** Photos chosen at a visit; each is written down on this device before anything is sent. */
export async function post(files: readonly File[], of: Pick<Sending, 'by' | 'visit' | 'vessel' | 'ahead'>) {
  // What was told of photos before is read by now.
  tell(posted.filter((each) => each.visit !== of.visit || (each.state !== 'refused' && each.state !== 'unseen')))
  for (const file of files) {
    const sending: Sending = { ...of, file, mutation: newId('mut'), photo: newId('pho'), why: '' }
    const known = photoKinds.includes(kindOf(file))
    const fault = known ? '' : 'no photo that can be kept. JPEG, PNG, WebP and HEIC can.'
    const held = known && (await keep(sending))
    tell([...posted, { ...sending, state: known ? 'to send' : 'refused', fault, held }])
  }
}

/** Sends again what waits, or what was stopped, with the reason that it needed. */
export function sendAgain(visit: string, state: 'waiting' | 'stopped', why?: string) {
  tell(
    posted.map((each) =>
      each.visit === visit && each.state === state ? { ...each, state: 'to send', why: why ?? each.why } : each,
    ),
  )
}

const keep = (photo: Sending) =>
  waitingPhotos.put(bare(photo)).then(
    () => true,
    () => false,
  )
const bare = ({ photo, mutation, file, by, visit, vessel, ahead, why, original, device }: Sending): Sending => ({
  ...{ photo, mutation, file, by, visit, vessel, ahead, why },
  ...(original === undefined ? {} : { original }),
  ...(device === undefined ? {} : { device }),
})

/** Seconds until what waits is sent again, the last of them for ever. */
const patience = [3, 6, 12, 25]
let tries = 0

/** Sends what there is to send, one after the other, wherever in the book its sender is; what an earlier page left too. */
export function usePhotoPost() {
  const client = useClient()
  const by = useViewer()?.member?.id
  const list = usePosted()
  useEffect(() => {
    if (!by) return
    let gone = false
    waitingPhotos.of(by).then(
      (left) => {
        if (gone) return
        const fresh = left.filter(({ photo }) => posted.every((each) => each.photo !== photo))
        tell([...posted, ...fresh.map((each): Posted => ({ ...each, state: 'to send', fault: '', held: true }))])
      },
      () => undefined, // the browser keeps nothing: then nothing was left
    )
    return () => {
      gone = true
      tell([]) // another person, or nobody: what waits is this one's, and stays on the device
    }
  }, [by])
  const next = list.find(({ state, by: whose }) => state === 'to send' && whose === by)?.photo
  useEffect(() => {
    if (next) void sendOne(client, next)
  }, [client, next])
  const waiting = !next && list.some(({ state }) => state === 'waiting')
  useEffect(() => {
    if (!waiting) return
    const again = () => {
      tell(posted.map((each) => (each.state === 'waiting' ? { ...each, state: 'to send' } : each)))
    }
    const timer = setTimeout(again, 1000 * (patience[Math.min(tries, patience.length) - 1] ?? patience[0] ?? 3))
    window.addEventListener('online', again)
    return () => {
      clearTimeout(timer)
      window.removeEventListener('online', again)
    }
  }, [waiting])
}

const underWay = new Set<string>()

async function sendOne(client: Client, photo: string) {
  const found = posted.find((each) => each.photo === photo)
  if (!found || underWay.has(photo)) return
  underWay.add(photo)
  const sending = bare(found)
  try {
    await one(client, sending)
    tries = 0
    await waitingPhotos.take(photo).catch(() => undefined)
    const unseen = sending.device === null && kindOf(sending.file) === 'image/heic'
    if (unseen) change(photo, { state: 'unseen' })
    else tell(posted.filter((each) => each.photo !== photo))
  } catch (error) {
    const reached = { original: sending.original, device: sending.device } as Partial<Posted>
    if (away(error)) {
      tries += 1
      change(photo, { ...reached, state: 'waiting', held: await keep(sending) })
    } else if (withoutLeave(error)) change(photo, { ...reached, state: 'stopped', fault: said(error) })
    else {
      await waitingPhotos.take(photo).catch(() => undefined)
      change(photo, { state: 'refused', fault: said(error) })
    }
  } finally {
    underWay.delete(photo)
  }
}

async function one(client: Client, photo: Sending): Promise<void> {
  const kind = kindOf(photo.file)
  photo.original ??= await upload(client, photo.file, 'photo', kind)
  if (photo.device === undefined) {
    const shown = kind === 'image/heic' ? await jpegOf(photo.file) : null
    photo.device = shown && (await upload(client, shown, 'photo', 'image/jpeg'))
  }
  const { error } = await client
    .mutation(AddPhotoDocument, {
      input: {
        mutation: photo.mutation,
        id: photo.photo,
        upload: photo.original,
        device: photo.device,
        vessel: photo.vessel,
        visit: photo.visit,
        takenAt: (await takenAt(photo.file, photo.ahead ?? 0)).toISOString(),
        clockAhead: photo.ahead,
        unasked: photo.why ? { reason: photo.why } : null,
      },
    })
    .toPromise()
  if (error) throw error
}

/** What the photo says of itself, put right by the camera's clock; else when the file was last written. */
async function takenAt(file: File, ahead: number): Promise<Date> {
  const kind = kindOf(file)
  // A JPEG says it at its head; a HEIC may keep it anywhere.
  const said = kind === 'image/jpeg' ? file.slice(0, 262_144) : kind === 'image/heic' ? file : null
  const taken = said && takenBy(await said.arrayBuffer())
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

/** Nothing answered, what answered asks for patience, or nobody is signed in any more: worth sending again. */
function away(error: unknown): boolean {
  const of = error as Partial<CombinedError> | undefined
  if (of?.graphQLErrors?.length)
    return of.graphQLErrors.some(({ extensions }) => /^un(available|authenticated)$/i.test(String(extensions?.code)))
  return Boolean(of?.networkError) || error instanceof TypeError || error instanceof StoreAway
}

const withoutLeave = (error: unknown) =>
  (error as CombinedError)?.graphQLErrors?.some(({ extensions }) => extensions?.field === 'withoutLeave') ?? false
