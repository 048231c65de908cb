import type { Client } from 'urql'
import type { Spec } from '../../figure/spec'
import { AddElementDocument, EditElementDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import type { LayerRow } from '../history/whatLies'

/** The boat as her page knows her: with a hull already, or with the numbers to draw one from. */
export interface Known {
  id: string
  version: number
  loaMm?: number | null
  beamMm?: number | null
  draughtMm?: number | null
  lwlMm?: number | null
  element: {
    id: string
    version: number
    figure?: unknown
    bootTopMm?: number | null
    layers?: readonly LayerRow[]
  } | null
}

interface Drawn {
  figure?: Spec
  /** How far the top of the boot-top lies above the datum, millimetres. */
  bootTopMm?: number | undefined
}

/** The id of her hull, written down where nobody did yet; a figure and a boot-top are given to one that has none. */
export async function hullOf(client: Client, { id: vessel, element }: Known, drawn: Drawn = {}): Promise<string> {
  const id = element?.id ?? newId('elm')
  const input = {
    mutation: newId('mut'),
    id,
    ...(drawn.figure && !element?.figure ? { figure: drawn.figure } : {}),
    ...(drawn.bootTopMm !== undefined && element?.bootTopMm == null ? { bootTopMm: drawn.bootTopMm } : {}),
  }
  if (element && !('figure' in input) && !('bootTopMm' in input)) return id
  const { error } = element
    ? await client.mutation(EditElementDocument, { input: { ...input, version: element.version } }).toPromise()
    : await client.mutation(AddElementDocument, { input: { ...input, vessel, kind: 'hull' } }).toPromise()
  if (error) throw error
  return id
}
