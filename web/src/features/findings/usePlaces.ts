import { useQuery } from 'urql'
import { PlaceChoicesDocument } from '../../graphql/gen/graphql'
import type { PlaceNames } from '../../model/places'

const none: PlaceNames = { ids: [], labels: [], sides: [] }

/**
 * The places and parts of a boat, asked for once something is to be pinned to one. Until they are `known` nothing is
 * kept of where a thing lies: a label that cannot be read back would unpin it.
 */
export function usePlaces(vessel: string, wanted: boolean) {
  const [{ data, error }, again] = useQuery({ query: PlaceChoicesDocument, variables: { vessel }, pause: !wanted })
  const places = (data?.vessel?.history.axis as PlaceNames | undefined) ?? none
  return { places, elements: data?.vessel?.elements ?? [], known: Boolean(data), error, again }
}
