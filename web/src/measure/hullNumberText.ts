/** What stands on the boat, made plain: capitals without separators, and codes of what was changed on the way. */
export interface Plain {
  plain: string
  /** A single hyphen followed the first two characters, as the international layout writes it. */
  hyphen: boolean
  warnings: string[]
  notes: string[]
}

export const characters = (s: string): number => [...s].length

export function plainOf(text: string): Plain {
  let plain = ''
  let [hyphen, separators, odd, small] = [false, false, false, false]
  for (const read of text.trim()) {
    const folded = /[\uFF01-\uFF5E]/.test(read) // full-width forms stand at a fixed distance from ASCII
    const c = folded ? String.fromCharCode(read.charCodeAt(0) - 0xfee0) : read
    odd ||= folded
    if (c === '-' && plain.length === 2 && !hyphen && !separators) hyphen = true
    else if (/[-/._\s\p{Pd}]/u.test(c)) separators = true
    else if (/[a-z]/.test(c)) {
      small = true
      plain += c.toUpperCase()
    } else {
      odd ||= !/[A-Z0-9]/.test(c)
      plain += c
    }
  }
  if (plain === '') return { plain, hyphen: false, warnings: ['empty'], notes: [] }
  const notes = [...(small ? ['small-letters'] : []), ...(separators ? ['separators'] : [])]
  return { plain, hyphen, warnings: odd ? ['not-plain-characters'] : [], notes }
}

/**
 * For what was read, what may have been meant where only letters or only digits can stand. Common practice, no source.
 */
const meant: Record<string, Record<string, string>> = {
  d: { O: '0', Q: '0', D: '0', I: '1', L: '1', Z: '2', S: '5', G: '6', B: '8' },
  s: { O: '0', Q: '0', I: '1' },
  A: { 1: 'I', 8: 'B', 0: 'D', 6: 'G' },
  M: {},
}
const fits: Record<string, RegExp> = { d: /\d/, s: /[A-HJ-NPR-Z0-9]/, A: /[A-L]/, M: /M/ }

/**
 * The well-formed numbers that differ from plain only in characters easily taken for one another, at most two of
 * them; none where plain is well-formed itself.
 */
export function lookAlikes(plain: string): string[] {
  const abroad = /^[A-Z]{2}/.test(plain) && plain.length === 14
  const [prefix, body] = abroad ? [`${plain.slice(0, 2)}-`, plain.slice(2)] : ['', plain]
  if (body.length !== 12 || !/^[A-Z0-9]{3}/.test(body)) return []
  const found: string[] = []
  // The older layouts never had a country.
  for (const form of abroad ? ['sssssAddd'] : ['sssssAddd', 'sssssdddd', 'sssssMddA']) {
    const fixed = undo(body, form)
    if (fixed === body) return []
    if (fixed) found.push(prefix + fixed)
  }
  return found
}

/** Makes body fit form, whose letters name what may stand at positions 4 to 12; null where it takes more than two. */
function undo(body: string, form: string): string | null {
  const out = [...body]
  let changed = 0
  for (const [i, kind] of [...form].entries()) {
    const c = body[3 + i] ?? ''
    if (fits[kind]?.test(c)) continue
    const instead = meant[kind]?.[c]
    if (!instead || changed === 2) return null
    out[3 + i] = instead
    changed++
  }
  const fixed = out.join('')
  if (form === 'sssssdddd' && !/^(0[1-9]|1[0-2])/.test(fixed.slice(8))) return null
  return fixed
}
