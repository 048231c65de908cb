import type { Client } from 'urql'
import type { Spec } from '../../figure/spec'
import { AddElementDocument, EditElementDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'

/** The boat as her page knows her: with a hull already, or with the numbers to draw one from. */
export interface Known {
  id: string
  version: number
  loaMm?: number | null
  beamMm?: number | null
  draughtMm?: number | null
  lwlMm?: number | null
  element: { id: string; version: number; figure?: unknown } | null
}

/** The id of her hull, written down where nobody did yet; a figure is given to one that has none. */
export async function hullOf(client: Client, { id: vessel, element }: Known, figure?: Spec): Promise<string> {
  const id = element?.id ?? newId('elm')
  if (element && (element.figure || !figure)) return id
  const { error } = element
    ? await client
        .mutation(EditElementDocument, { input: { mutation: newId('mut'), id, version: element.version, figure } })
        .toPromise()
    : await client
        .mutation(AddElementDocument, { input: { mutation: newId('mut'), id, vessel, kind: 'hull', figure } })
        .toPromise()
  if (error) throw error
  return id
}
