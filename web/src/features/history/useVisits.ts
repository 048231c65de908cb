import { useEffect, useState } from 'react'
import { useClient, useQuery } from 'urql'
import { VisitStoryDocument, type VisitStoryQuery } from '../../graphql/gen/graphql'

export type VisitStory = NonNullable<VisitStoryQuery['visit']>

/** What was seen, bared and noted at the visit of the pass that is shown. */
export function useVisit(id: string): VisitStory | null {
  const [{ data }] = useQuery({ query: VisitStoryDocument, variables: { id } })
  return data?.visit ?? null
}

/** The same of many visits, asked only once somebody wants the whole story; null until all have come. */
export function useVisits(ids: readonly string[], wanted: boolean): VisitStory[] | null {
  const client = useClient()
  const [stories, setStories] = useState<VisitStory[] | null>(null)
  const list = ids.join()
  useEffect(() => {
    if (!wanted) return
    let gone = false
    const all = list.split(',').map((id) => client.query(VisitStoryDocument, { id }).toPromise())
    Promise.all(all).then((answers) => {
      if (!gone) setStories(answers.flatMap(({ data }) => data?.visit ?? []))
    })
    return () => {
      gone = true
    }
  }, [client, list, wanted])
  return stories
}
