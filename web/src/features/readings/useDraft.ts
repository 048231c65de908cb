import { useCallback, useEffect, useRef, useState } from 'react'
import { begin, type Draft, follow, redo, settled, undo, write } from '../../model/sheet'

const key = (pass: string) => `boottop-draft-${pass}`

function stored(pass: string): Record<string, string> | null {
  try {
    const raw = localStorage.getItem(key(pass))
    return raw ? (JSON.parse(raw) as Record<string, string>) : null
  } catch {
    return null
  }
}

/**
 * What is typed into a pass's grid, over what the service holds. It is written to this device on every
 * change, so a closed page loses nothing; what the service now holds the same is forgotten here.
 */
export function useDraft(pass: string, held: Record<string, string>) {
  const [draft, setDraft] = useState<Draft>(() => begin({ ...held, ...stored(pass) }))
  const before = useRef(held)
  const sent = useRef<ReadonlyMap<string, string>>(new Map())

  useEffect(() => {
    if (before.current === held) return
    const was = before.current
    before.current = held
    const just = sent.current
    // What the answer does not hold yet is still waited for.
    sent.current = new Map([...just].filter(([id]) => was[id] === held[id]))
    setDraft((now) => follow(now, was, held, just))
  }, [held])

  useEffect(() => {
    const own: Record<string, string> = {}
    for (const id of new Set([...Object.keys(draft.cells), ...Object.keys(held)])) {
      const text = draft.cells[id] ?? ''
      if (text !== (held[id] ?? '')) own[id] = text
    }
    try {
      if (Object.keys(own).length) localStorage.setItem(key(pass), JSON.stringify(own))
      else localStorage.removeItem(key(pass))
    } catch {
      // storage refused: the page says that nothing is kept before it is sent
    }
  }, [pass, draft.cells, held])

  return {
    draft,
    write: useCallback(
      (name: string, entries: Iterable<readonly [string, string]>) => setDraft((now) => write(now, name, entries)),
      [],
    ),
    undo: useCallback(() => setDraft(undo), []),
    redo: useCallback(() => setDraft(redo), []),
    /**
     * After an answer: these cells, by the text that they were sent with, show what the service holds once it is
     * asked again. What was typed meanwhile stays typed.
     */
    settle: useCallback((cells: Iterable<readonly [place: string, text: string]>) => {
      sent.current = new Map([...sent.current, ...cells])
      setDraft(settled)
    }, []),
  }
}
