import { useEffect, useState } from 'react'
import { type CombinedError, useClient, useQuery } from 'urql'
import { VisitStoryDocument, type VisitStoryQuery } from '../../graphql/gen/graphql'

export type VisitStory = NonNullable<VisitStoryQuery['visit']>

/** What did not come, and how to ask again. */
export interface Lacking {
  error: CombinedError
  again: () => void
}

/** What was seen, bared and noted at the visit of the pass that is shown. */
export function useVisit(id: string): { visit: VisitStory | null; lacking: Lacking | null } {
  const [{ data, error }, again] = useQuery({ query: VisitStoryDocument, variables: { id } })
  return { visit: data?.visit ?? null, lacking: error ? { error, again } : null }
}

export interface VisitStories {
  /** Null until all were asked for. */
  visits: VisitStory[] | null
  /** Some did not come: nothing may be said of what was not found. */
  lacking: Lacking | null
}

/** The same of many visits, asked only once somebody wants the whole story. */
export function useVisits(ids: readonly string[], wanted: boolean): VisitStories {
  const client = useClient()
  const [stories, setStories] = useState<{ visits: VisitStory[]; error: CombinedError | undefined } | null>(null)
  const [turn, setTurn] = useState(0)
  const list = ids.join()
  // biome-ignore lint/correctness/useExhaustiveDependencies: another turn asks for the same again
  useEffect(() => {
    if (!wanted) return
    let gone = false
    const all = list.split(',').map((id) => client.query(VisitStoryDocument, { id }).toPromise())
    Promise.all(all).then((answers) => {
      if (gone) return
      setStories({
        visits: answers.flatMap(({ data }) => data?.visit ?? []),
        error: answers.find(({ error }) => error)?.error,
      })
    })
    return () => {
      gone = true
    }
  }, [client, list, wanted, turn])
  return {
    visits: stories?.visits ?? null,
    lacking: stories?.error ? { error: stories.error, again: () => setTurn((now) => now + 1) } : null,
  }
}
