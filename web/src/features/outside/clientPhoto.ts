import type { Client } from 'urql'
import { GrantClientPhotoDocument } from '../../graphql/gen/graphql'
import { put, sha256 } from '../../graphql/upload'
import { newId } from '../../model/id'

/** Puts a client's photo or invoice where its grant says and answers the id by which an answer names it. */
export async function clientPhoto(client: Client, file: File, by: { report: string; code: string }): Promise<string> {
  const body = await file.arrayBuffer()
  const id = newId('upl')
  const granted = await client
    .mutation(GrantClientPhotoDocument, {
      input: {
        mutation: newId('mut'),
        id,
        ...by,
        contentType: file.type,
        sizeBytes: file.size,
        sha256: await sha256(body),
        fileName: file.name,
      },
    })
    .toPromise()
  if (granted.error) throw granted.error
  const grant = granted.data?.grantClientPhoto
  if (!grant?.url) throw new Error('The service gave no leave to send the photo.')
  await put(grant, body)
  return id
}
