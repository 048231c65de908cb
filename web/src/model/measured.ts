import { type Parsed, parseQuantity } from './number'

/** What belongs to one field of a finding's form, as the service says it. */
export interface Field {
  name: string
  label: string
  takes: string
  unit: string
  least: number
  most: number
  choices: readonly string[]
  needed: boolean
}

export type Measured = Record<string, number | number[] | string>

/** Several figures as somebody writes them: apart by spaces, semicolons or a comma and a space; a comma alone parts decimals. */
export function parseFigures(raw: string): Parsed<number[]> {
  const list: number[] = []
  for (const word of raw.split(/[;\s]+|,\s+/).filter(Boolean)) {
    const one = parseQuantity(word.replace(/,$/, ''))
    if (!one.ok) return one
    list.push(one.value)
  }
  return { ok: true, value: list }
}

/** What was typed in one field; undefined where nothing was. The limits are the service's own. */
export function parseField(field: Field, raw: string): Parsed<number | number[] | string | undefined> {
  const text = raw.trim()
  if (!text) return field.needed ? { ok: false, why: 'This is needed.' } : { ok: true, value: undefined }
  if (field.takes === 'choice' || field.takes === 'words') return { ok: true, value: text }
  const parsed = field.takes === 'numbers' ? parseFigures(text) : parseQuantity(text, field.takes === 'whole' ? 0 : 3)
  if (!parsed.ok) return parsed
  const outside = [parsed.value].flat().find((x) => x < field.least || x > field.most)
  if (outside !== undefined)
    return { ok: false, why: `Between ${field.least} and ${field.most}${field.unit ? ` ${field.unit}` : ''}.` }
  return parsed
}

/** What was typed in every field of a form, or what is wrong, by field. */
export function parseMeasured(
  fields: readonly Field[],
  typed: Readonly<Record<string, string>>,
): { measured: Measured; wrong: Record<string, string> } {
  const measured: Measured = {}
  const wrong: Record<string, string> = {}
  for (const field of fields) {
    const parsed = parseField(field, typed[field.name] ?? '')
    if (!parsed.ok) wrong[field.name] = parsed.why
    else if (parsed.value !== undefined) measured[field.name] = parsed.value
  }
  return { measured, wrong }
}

/** What was kept, as it would be typed. */
export function typedFrom(measured: unknown): Record<string, string> {
  if (typeof measured !== 'object' || measured === null) return {}
  return Object.fromEntries(
    Object.entries(measured).map(([name, value]) => [name, Array.isArray(value) ? value.join(' ') : String(value)]),
  )
}
