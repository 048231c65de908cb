import { type Client, CombinedError } from 'urql'
import { newId } from '../model/id'
import { FinishUploadDocument, GrantUploadDocument } from './gen/graphql'

export type Purpose = 'photo' | 'readings' | 'document'

/** The SHA-256 of bytes, in hexadecimal, computed on this device. */
export async function sha256(body: ArrayBuffer): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', body))
  return [...digest].map((byte) => byte.toString(16).padStart(2, '0')).join('')
}

/** The store of files took nothing just now: the same file may go through later. */
export class StoreAway extends Error {}

const unreached =
  'The store of files does not answer. What you typed is still here: check the connection and send it again in a moment.'
const tooSlow =
  'The line was too slow for this file. What you typed is still here: send it again where the line is better.'

/** Milliseconds until a sending is given up for a dead line: a minute, and what a line of 2 kB a second needs. */
const patience = (bytes: number) => 60_000 + bytes / 2

/** Puts bytes as their grant says. Bytes that are there already came by a try whose answer was lost. */
export async function put(grant: { url: string | null; headers: unknown }, body: ArrayBuffer): Promise<void> {
  if (!grant.url) return // it has been put already, or its time is over: finishing it says which
  const { ok, status } = await fetch(grant.url, {
    method: 'PUT',
    headers: (grant.headers ?? {}) as Record<string, string>,
    body,
    signal: AbortSignal.timeout(patience(body.byteLength)),
  }).catch((fault: unknown) => {
    // What the browser says here, "Failed to fetch" for one, tells nobody what to do.
    throw new StoreAway(fault instanceof Error && fault.name === 'TimeoutError' ? tooSlow : unreached)
  })
  if (ok || status === 412) return
  // 403 is a grant that ran out on a slow line: the next try asks for a new one.
  if (status >= 500 || [403, 408, 429].includes(status)) throw new StoreAway(unreached)
  throw new Error(`The file could not be stored (${status}). Choose it again.`)
}

/**
 * Puts a file where the grant says, having said its size and hash first, and answers the id of the upload.
 * The file goes straight to the store of files, and its hash is taken on this device: what is kept is what was
 * chosen.
 */
export async function upload(client: Client, file: File, purpose: Purpose, contentType: string): Promise<string> {
  const body = await file.arrayBuffer()
  const granted = await client
    .mutation(GrantUploadDocument, {
      input: {
        mutation: newId('mut'),
        id: newId('upl'),
        purpose,
        contentType,
        sizeBytes: file.size,
        sha256: await sha256(body),
        fileName: file.name,
      },
    })
    .toPromise()
  if (granted.error) throw granted.error
  const grant = granted.data?.grantUpload
  if (!grant) throw new Error('The service gave no leave to send the file.')
  await put(grant, body)
  const finished = await client
    .mutation(FinishUploadDocument, { input: { mutation: newId('mut'), upload: grant.upload } })
    .toPromise()
  if (finished.error) throw finished.error
  return grant.upload
}

/** Why a file did not arrive, in words for whoever sent it. */
export function sayLost(fault: unknown): string {
  if (fault instanceof CombinedError)
    return fault.graphQLErrors[0]?.message ?? 'The service cannot be reached. Check the connection and send it again.'
  return fault instanceof Error ? fault.message : 'The file could not be sent. Choose it again.'
}
