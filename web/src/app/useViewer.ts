import { useQuery } from 'urql'
import { ViewerDocument } from '../graphql/gen/graphql'

/** Who is asking, from the cache after the first page. */
export function useViewer() {
  const [{ data }] = useQuery({ query: ViewerDocument })
  return data?.viewer ?? null
}
