import { useCallback, useEffect, useRef, useState } from 'react'
import { type CombinedError, useClient } from 'urql'
import { read } from '../../graphql/gen'
import {
  DraftWordsDocument,
  type DraftWordsFragment,
  DraftWordsFragmentDoc,
  EditReportDocument,
  EditSectionDocument,
} from '../../graphql/gen/graphql'
import {
  asked,
  decide,
  fromKept,
  heldWords,
  mergeAll,
  own,
  type Parcel,
  parcels,
  taken,
  toKeep,
  toSend,
  typed,
  type WrittenFields,
} from '../../model/draft'
import { newId } from '../../model/id'

/** How long nobody types before what was typed is sent, and how long before it is tried again; milliseconds. */
const pause = 900
const retry = 5000
/** A save that finds newer words is merged and sent again, so often at most. */
const rounds = 5

export type Saving = 'kept' | 'typing' | 'sending' | 'offline' | 'asks'
type Went = 'kept' | 'conflict' | 'offline' | 'refused'
/** The words of a draft, from whichever question they came. */
export type Words = Omit<DraftWordsFragment, ' $fragmentName'>

function kept(store: string): string | null {
  try {
    return localStorage.getItem(store)
  } catch {
    return null // none allowed: what is typed lives as long as the page
  }
}
function keep(store: string, text: string | null) {
  try {
    if (text) localStorage.setItem(store, text)
    else localStorage.removeItem(store)
  } catch {
    // no room, or none allowed: typing goes on, and is sent all the same
  }
}

/** What went wrong with a save: newer words there, words that the service does not take, or no answer. */
function went(error: CombinedError | undefined): Went {
  const code = String(error?.graphQLErrors[0]?.extensions?.code ?? '').toLowerCase()
  if (code === 'conflict') return 'conflict'
  return ['invalid', 'forbidden', 'notfound', 'not_found'].includes(code) ? 'refused' : 'offline'
}

/**
 * The words of a draft, saved by themselves: one save at a time, each field against what it was based on. What
 * could not be sent stays on this device, over a closed page too, until the service has it.
 */
export function useDraft(report: Words) {
  const client = useClient()
  const store = `draft:${report.id}`
  const [fields, setFields] = useState<WrittenFields>(() => mergeAll(fromKept(kept(store)), heldWords(report)))
  const [state, setState] = useState<'idle' | 'sending' | 'offline'>('idle')
  const [refused, setRefused] = useState<Readonly<Record<string, string>>>({})
  const now = useRef(fields)
  const held = useRef(report)
  const refusedNow = useRef(refused)
  const busy = useRef<Promise<boolean> | null>(null)

  const put = useCallback(
    (next: WrittenFields) => {
      now.current = next
      setFields(next)
      keep(store, toKeep(next))
    },
    [store],
  )
  const refuse = useCallback((names: readonly string[], why?: string) => {
    const next = { ...refusedNow.current }
    for (const name of names) {
      if (why) next[name] = why
      else delete next[name]
    }
    refusedNow.current = next
    setRefused(next)
  }, [])
  const learn = useCallback(
    (words: Words) => {
      if (words.version < held.current.version) return
      held.current = words
      put(mergeAll(now.current, heldWords(words)))
    },
    [put],
  )
  useEffect(() => learn(report), [report, learn])

  const send = useCallback(
    async (parcel: Parcel): Promise<Went> => {
      const section = held.current.sections.find(({ id }) => id === parcel.section)
      if (parcel.section && !section) {
        refuse(parcel.names, 'This section is no longer in the draft. Copy your words to another.')
        return 'refused'
      }
      const { words, error } = section
        ? await client
            .mutation(EditSectionDocument, {
              input: { mutation: newId('mut'), id: section.id, version: section.version, ...parcel.changes },
            })
            .toPromise()
            .then(({ data, error }) => ({ words: data?.editSection.report, error }))
        : await client
            .mutation(EditReportDocument, {
              input: { mutation: newId('mut'), id: report.id, version: held.current.version, ...parcel.changes },
            })
            .toPromise()
            .then(({ data, error }) => ({ words: data?.editReport.report, error }))
      if (!words) {
        const how = went(error)
        if (how === 'refused') refuse(parcel.names, error?.graphQLErrors[0]?.message)
        return how
      }
      now.current = taken(now.current, parcel)
      learn(read(DraftWordsFragmentDoc, words))
      return 'kept'
    },
    [client, learn, refuse, report.id],
  )

  /** Reads what the service holds now, so that what was typed is merged with it. */
  const look = useCallback(async (): Promise<boolean> => {
    const { data } = await client
      .query(DraftWordsDocument, { id: report.id }, { requestPolicy: 'network-only' })
      .toPromise()
    if (data?.report) learn(read(DraftWordsFragmentDoc, data.report))
    return Boolean(data?.report)
  }, [client, learn, report.id])

  const waiting = useCallback(() => toSend(now.current).filter((name) => refusedNow.current[name] === undefined), [])

  const round = useCallback(async (): Promise<Went> => {
    for (const parcel of parcels(now.current, waiting())) {
      const how = await send(parcel)
      if (how === 'offline') return how
      if (how === 'conflict') return (await look()) ? how : 'offline'
    }
    return 'kept'
  }, [look, send, waiting])

  /** Sends what is typed at once; true when everything is with the service. */
  const flush = useCallback((): Promise<boolean> => {
    busy.current ??= (async () => {
      setState('sending')
      let how: Went = 'kept'
      for (let k = 0; k < rounds && how !== 'offline' && waiting().length > 0; k++) how = await round()
      setState(how === 'offline' ? 'offline' : 'idle')
      return !Object.values(now.current).some(own)
    })().finally(() => {
      busy.current = null
    })
    return busy.current
  }, [round, waiting])

  const dirty = toSend(fields).some((name) => refused[name] === undefined)
  // Each letter moves the moment at which it is sent.
  // biome-ignore lint/correctness/useExhaustiveDependencies: a change of the fields is what is waited for
  useEffect(() => {
    if (!dirty) return
    const timer = setTimeout(flush, state === 'offline' ? retry : pause)
    return () => clearTimeout(timer)
  }, [fields, dirty, state, flush])
  useEffect(() => {
    const online = () => void flush()
    window.addEventListener('online', online)
    return () => window.removeEventListener('online', online)
  }, [flush])

  const saving: Saving = Object.values(fields).some(asked)
    ? 'asks'
    : state === 'idle'
      ? dirty
        ? 'typing'
        : 'kept'
      : state
  return {
    fields,
    refused,
    saving,
    flush,
    type(name: string, text: string) {
      refuse([name])
      put(typed(now.current, name, text))
    },
    decide: (name: string, keep: 'mine' | 'theirs') => put(decide(now.current, name, keep)),
  }
}
export type Draft = ReturnType<typeof useDraft>
