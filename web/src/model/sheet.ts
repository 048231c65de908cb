/**
 * What has been typed into a grid, as text, with its undo. Functions take a draft and return a draft.
 * The text is the truth: a wrong cell keeps what was typed until it is put right.
 */
export interface Step {
  /** What undo calls it: "typed 13/3", "pasted 42 cells". */
  name: string
  changes: { place: string; before: string; after: string }[]
}
export interface Draft {
  cells: Readonly<Record<string, string>>
  done: readonly Step[]
  undone: readonly Step[]
}

export const blank: Draft = { cells: {}, done: [], undone: [] }

/** Starts from what the service already holds; that is not undone. */
export function begin(cells: Record<string, string>): Draft {
  return { ...blank, cells: { ...cells } }
}

/** All changes of one act, undone as one. An act that changes nothing leaves no step. */
export function write(draft: Draft, name: string, entries: Iterable<readonly [place: string, text: string]>): Draft {
  const changes = []
  const cells = { ...draft.cells }
  for (const [place, after] of entries) {
    const before = cells[place] ?? ''
    if (before === after) continue
    changes.push({ place, before, after })
    put(cells, place, after)
  }
  if (changes.length === 0) return draft
  return { cells, done: [...draft.done, { name, changes }], undone: [] }
}

export function undo(draft: Draft): Draft {
  const step = draft.done.at(-1)
  if (!step) return draft
  const cells = { ...draft.cells }
  for (const { place, before } of [...step.changes].reverse()) put(cells, place, before)
  return { cells, done: draft.done.slice(0, -1), undone: [...draft.undone, step] }
}

export function redo(draft: Draft): Draft {
  const step = draft.undone.at(-1)
  if (!step) return draft
  const cells = { ...draft.cells }
  for (const { place, after } of step.changes) put(cells, place, after)
  return { cells, done: [...draft.done, step], undone: draft.undone.slice(0, -1) }
}

function put(cells: Record<string, string>, place: string, text: string) {
  if (text === '') delete cells[place]
  else cells[place] = text
}

/**
 * What the service holds has moved on from `before` to `after`: cells that stood as it held them follow, and
 * so do those just sent, by the text that they were sent with. Anything else typed here stays typed.
 */
export function follow(
  draft: Draft,
  before: Readonly<Record<string, string>>,
  after: Readonly<Record<string, string>>,
  sent: ReadonlyMap<string, string>,
): Draft {
  const cells = { ...draft.cells }
  for (const place of new Set([...Object.keys(before), ...Object.keys(after)])) {
    const [was, is] = [before[place] ?? '', after[place] ?? '']
    const now = cells[place] ?? ''
    if (was !== is && (now === was || now === sent.get(place))) put(cells, place, is)
  }
  return { ...draft, cells }
}

/** What was received is put right with a reason, not undone: after sending there is nothing to take back. */
export function settled(draft: Draft): Draft {
  return { ...draft, done: [], undone: [] }
}
