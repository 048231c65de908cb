/** Small words that many pages share. */

export function metres(mm: number): string {
  return `${(mm / 1000).toFixed(2).replace(/0$/, '')} m`
}

export function celsius(decidegrees: number): string {
  const whole = decidegrees / 10
  return `${(Number.isInteger(whole) ? whole.toFixed(0) : whole.toFixed(1)).replace('-', '−')} °C`
}

export function humidity(permille: number): string {
  return `${Math.round(permille / 10)} % RH`
}

export function plural(n: number, one: string, many = `${one}s`): string {
  return `${n} ${n === 1 ? one : many}`
}

/** Hours as far as they are told apart: "6 hours"; from three days on whole days, as reports say it. */
export function hoursWords(hours: number): string {
  return hours < 72 ? plural(Math.round(hours), 'hour') : plural(Math.floor(hours / 24), 'day')
}

/** "21 days ashore", or as far as it is known. */
export function ashoreWords(pass: {
  daysAshore?: number | null
  ashoreBetween?: { least: number; most: number } | null
  hoursAshore?: number | null
  daysAshoreAsWritten?: string
}): string {
  if (pass.hoursAshore != null)
    return pass.hoursAshore === 0 ? 'in the slings' : `${plural(pass.hoursAshore, 'hour')} ashore`
  if (pass.daysAshore != null) return `${plural(pass.daysAshore, 'day')} ashore`
  const between = pass.ashoreBetween
  if (between) return `${between.least} to ${plural(between.most, 'day')} ashore`
  const written = pass.daysAshoreAsWritten
  return written && written !== 'not stated' ? `“${written}” ashore` : 'days ashore not stated'
}

export const standingWord = {
  reference: 'this one',
  same: 'same',
  alike: 'alike',
  unlike: 'unlike',
  quoted: 'quoted',
} as const

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}

export function bytes(n: number): string {
  return n < 1_000_000 ? `${Math.round(n / 1000)} kB` : `${(n / 1_000_000).toFixed(1)} MB`
}

/** Somebody's words, ended as sentences end; nothing where there are none. */
export function sentence(text: string | null | undefined): string {
  const said = (text ?? '').trim()
  return !said || /[.!?…]$/.test(said) ? said : `${said}.`
}
