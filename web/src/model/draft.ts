/**
 * What is written in a draft on this device beside what the service holds: a text is merged where only one side
 * changed it, and a person is asked where both did. Nothing typed is lost, whatever happens to the connection.
 */
export interface Written {
  /** What the service held when the typing began. */
  base: string
  text: string
  /** What somebody else wrote meanwhile; a person decides. */
  theirs?: string
}
export type WrittenFields = Readonly<Record<string, Written>>

export const own = ({ base, text }: Written) => text !== base
export const asked = ({ theirs }: Written) => theirs !== undefined

/** What one field is once the service's text is known. */
export function merge(field: Written | undefined, held: string): Written {
  if (!field || field.text === field.base || field.text === held) return { base: held, text: held }
  if (held === field.base) return field
  return { base: held, text: field.text, theirs: held }
}

/** All fields once the service's texts are known; fields that it knows no more are kept while they hold something typed. */
export function mergeAll(fields: WrittenFields, held: Readonly<Record<string, string>>): WrittenFields {
  const out: Record<string, Written> = {}
  for (const [name, text] of Object.entries(held)) out[name] = merge(fields[name], text)
  for (const [name, field] of Object.entries(fields)) if (!(name in held) && own(field)) out[name] = field
  return out
}

export function typed(fields: WrittenFields, name: string, text: string): WrittenFields {
  const field = fields[name] ?? { base: '', text: '' }
  return { ...fields, [name]: { ...field, text } }
}

/** A person decided: mine stays and is sent over theirs, or theirs stays. */
export function decide(fields: WrittenFields, name: string, keep: 'mine' | 'theirs'): WrittenFields {
  const field = fields[name]
  if (field?.theirs === undefined) return fields
  return {
    ...fields,
    [name]: keep === 'mine' ? { base: field.theirs, text: field.text } : { base: field.theirs, text: field.theirs },
  }
}

/** The fields that are to be sent: typed, and not waiting for a person. */
export function toSend(fields: WrittenFields): string[] {
  return Object.keys(fields).filter((name) => {
    const field = fields[name]
    return field !== undefined && own(field) && !asked(field)
  })
}

/** What the device keeps until the service has it, as text; null where it has everything. */
export function toKeep(fields: WrittenFields): string | null {
  const dirty = Object.entries(fields).filter(([, field]) => own(field))
  return dirty.length === 0
    ? null
    : JSON.stringify(Object.fromEntries(dirty.map(([name, { base, text }]) => [name, { base, text }])))
}

export function fromKept(kept: string | null): WrittenFields {
  if (!kept) return {}
  try {
    const read = JSON.parse(kept) as Record<string, { base: unknown; text: unknown }>
    return Object.fromEntries(
      Object.entries(read).flatMap(([name, { base, text }]) =>
        typeof base === 'string' && typeof text === 'string' ? [[name, { base, text }]] : [],
      ),
    )
  } catch {
    return {}
  }
}

/** The fields of a report's own words by their names here: `inShort`, `sec_….body`. */
export interface DraftWords {
  inShort: string
  scope: string
  limits: string
  sections: readonly { id: string; title: string; body: string }[]
}

export function heldWords({ inShort, scope, limits, sections }: DraftWords): Record<string, string> {
  const out: Record<string, string> = { inShort, scope, limits }
  for (const { id, title, body } of sections) {
    out[`${id}.title`] = title
    out[`${id}.body`] = body
  }
  return out
}

const braces = /\{([^{}\n]{1,40})\}/g

/** Placeholders in a text that nothing stands for, each once; the service says the same before issue. */
export function unfilled(text: string, placeholders: readonly { name: string; is: string }[]): string[] {
  const out = new Set<string>()
  for (const [, braced = ''] of text.matchAll(braces)) {
    const name = braced.trim().toLowerCase()
    if (!placeholders.some((one) => one.name === name && one.is)) out.add(name)
  }
  return [...out]
}

/** Fields that are saved together: the report's own words, or one section. */
export interface Parcel {
  section: string | null
  names: string[]
  /** The fields as the service calls them. */
  changes: Record<string, string>
}

export function parcels(fields: WrittenFields, names: readonly string[]): Parcel[] {
  const out: Parcel[] = []
  for (const name of names) {
    const [section, field] = name.includes('.') ? (name.split('.') as [string, string]) : [null, name]
    let parcel = out.find((one) => one.section === section)
    if (!parcel) {
      parcel = { section, names: [], changes: {} }
      out.push(parcel)
    }
    parcel.names.push(name)
    parcel.changes[field] = fields[name]?.text ?? ''
  }
  return out
}

/** What was sent is what the service holds; typing may have gone on meanwhile. */
export function taken(fields: WrittenFields, { names, changes }: Parcel): WrittenFields {
  const out = { ...fields }
  for (const name of names) {
    const field = fields[name]
    if (field) out[name] = { ...field, base: changes[name.split('.').at(-1) ?? ''] ?? '' }
  }
  return out
}
