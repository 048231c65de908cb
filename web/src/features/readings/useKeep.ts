import { useCallback, useRef, useState } from 'react'
import { type CombinedError, useClient } from 'urql'
import {
  AddReadingsDocument,
  type AddReadingsInput,
  MarkFollowUpDocument,
  MarkNotReachedDocument,
  SupersedeReadingDocument,
  VoidReadingDocument,
} from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { asTyped, batches, unsent, type Work } from '../../model/keep'

/** A batch keeps its ids until it is answered, also over a reload: sent again it is the same change. */
const key = (pass: string) => `boottop-outbox-${pass}`
function waiting(pass: string): AddReadingsInput[] {
  try {
    return JSON.parse(localStorage.getItem(key(pass)) ?? '[]') as AddReadingsInput[]
  } catch {
    return []
  }
}
function store(pass: string, list: AddReadingsInput[]) {
  try {
    if (list.length) localStorage.setItem(key(pass), JSON.stringify(list))
    else localStorage.removeItem(key(pass))
  } catch {
    // storage refused; the batch lives as long as the page
  }
}

export interface Kept {
  /** Places, by their ordinals, of which the service now holds what was typed. */
  sent: number[]
  asRepeats: number[]
  /** Something was refused or not answered; what stands in \`sent\` is kept all the same. */
  failed: boolean
}

/** Sends what differs, in order: gaps taken back, readings in columns, corrections with their reason, gaps, marks. */
export function useKeep(pass: string) {
  const client = useClient()
  const outbox = useRef<AddReadingsInput[]>(waiting(pass))
  const answered = useRef(new Set<number>())
  const [busy, setBusy] = useState(false)
  const [error, setError] = useState<CombinedError | null>(null)

  const keep = useCallback(
    async (work: Work, reason: string, takenAt: (ordinal: number) => number): Promise<Kept> => {
      setBusy(true)
      setError(null)
      const kept: Kept = { sent: [], asRepeats: [], failed: false }
      try {
        const run = async <D, V extends object>(
          document: Parameters<typeof client.mutation<D, V>>[0],
          variables: V,
        ) => {
          const { data, error } = await client.mutation<D, V>(document, variables).toPromise()
          if (error) throw error
          return data as D
        }
        if (work.reached.length)
          await run(MarkNotReachedDocument, {
            input: {
              mutation: newId('mut'),
              pass,
              ids: work.reached.map(() => newId('nrd')),
              places: work.reached,
              withdrawn: true,
            },
          })
        for (const batch of batches(unsent(work.fresh, outbox.current, answered.current)))
          outbox.current.push({
            mutation: newId('mut'),
            pass,
            ids: batch.map(() => newId('rdg')),
            places: batch.map(({ ordinal }) => ordinal),
            placements: batch.map(({ placements }) => placements),
            written: batch.map(({ written }) => written),
            takenAt: batch.map(({ ordinal }) => takenAt(ordinal)),
            followUp: batch.map(({ follow }) => (follow ? 1 : 0)),
          })
        store(pass, outbox.current)
        for (let next = outbox.current[0]; next; next = outbox.current[0]) {
          const { data, error } = await client.mutation(AddReadingsDocument, { input: next }).toPromise()
          // Refused is answered too: it leaves the outbox, its cells stay in the grid for a person.
          if (data || error?.graphQLErrors.length) {
            outbox.current = outbox.current.slice(1)
            store(pass, outbox.current)
          }
          if (error) throw error
          for (const place of next.places) if (place !== null) answered.current.add(place)
          kept.sent.push(...asTyped(next, work.fresh))
          kept.asRepeats.push(...(data?.addReadings.keptAsRepeats ?? []).filter((o): o is number => o !== null))
        }
        for (const { ordinal, reading, placements, written } of work.corrections) {
          await run(SupersedeReadingDocument, {
            input: {
              mutation: newId('mut'),
              id: newId('rdg'),
              reading,
              how: 'correct',
              reason,
              placements: placements ?? [],
              written,
              takenAt: new Date().toISOString(),
            },
          })
          kept.sent.push(ordinal)
        }
        for (const { ordinal, reading, reason: why } of work.voids) {
          await run(VoidReadingDocument, { input: { mutation: newId('mut'), reading, reason: why } })
          kept.sent.push(ordinal)
        }
        const why = grouped(work.unread)
        for (const [reason, gaps] of why) {
          await run(MarkNotReachedDocument, {
            input: {
              mutation: newId('mut'),
              pass,
              ids: gaps.map(() => newId('nrd')),
              places: gaps.map(({ ordinal }) => ordinal),
              reason,
            },
          })
          kept.sent.push(...gaps.map(({ ordinal }) => ordinal))
        }
        for (const [places, on] of [
          [work.followOn, true],
          [work.followOff, false],
        ] as const)
          if (places.length) await run(MarkFollowUpDocument, { input: { mutation: newId('mut'), pass, places, on } })
      } catch (fault) {
        setError(fault as CombinedError)
        kept.failed = true
      } finally {
        setBusy(false)
      }
      return kept
    },
    [client, pass],
  )
  return { keep, busy, error }
}

function grouped(list: Work['unread']): Map<string, Work['unread']> {
  const out = new Map<string, Work['unread']>()
  for (const gap of list) out.set(gap.reason, [...(out.get(gap.reason) ?? []), gap])
  return out
}
