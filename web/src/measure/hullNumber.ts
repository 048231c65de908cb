import { characters, lookAlikes, plainOf } from './hullNumberText'
import { type Dated, resolveYears } from './hullNumberYears'

/**
 * Reads the numbers moulded or fixed on hulls: the twin of domain/measure/hullnumber in Go, and like it never a
 * refusal. What is odd is a code, what it means is said by the service's words.
 *
 * The layout since 1984 is 33 CFR 181.25; the international one Regulation (EU) 2017/1, article 3, and 68 FR 36957
 * (2003). The two older American layouts are from memory, and a number read by one of them says so.
 */
export type Layout = 'us-current' | 'us-month-year' | 'us-model-year' | 'international' | 'unknown'

export interface HullNumber extends Dated {
  /** Exactly as given; this is what is stored. */
  asRead: string
  /** Capitals, without separators. */
  plain: string
  /** As its layout writes it; '' where it fits none. */
  written: string
  layout: Layout
  /** Two letters, of an international number only. */
  country: string
  maker: string
  /** False where the maker's field is known to hold something else, or could not be read. */
  mayNameBuilder: boolean
  serial: string
  /** 1 to 12; 0 where it cannot be read. */
  month: number
  /** Well-formed numbers one gets by undoing look-alikes such as O for 0. */
  perhaps: string[]
}

/** Divides a hull number into its fields, as of the year of reading. */
export function readHullNumber(text: string, year: number): HullNumber {
  const n: HullNumber = {
    ...{ asRead: text, plain: '', written: '', layout: 'unknown', country: '', maker: '', mayNameBuilder: false },
    ...{ serial: '', month: 0, years: [], modelYears: [], perhaps: [], warnings: [], notes: [] },
  }
  const { plain, hyphen, warnings, notes } = plainOf(text)
  n.plain = plain
  n.warnings.push(...warnings)
  n.notes.push(...notes)
  divide(n, hyphen)
  if (n.layout !== 'unknown' && /[IOQ]/.test(n.serial)) n.warnings.push('serial-letter')
  if (n.layout !== 'unknown') resolveYears(n, n.layout, n.plain.slice(-12), n.month, year)
  n.mayNameBuilder = mayNameBuilder(n)
  n.perhaps = lookAlikes(n.plain)
  return n
}

function divide(n: HullNumber, hyphen: boolean) {
  const { plain } = n
  if (plain === '') return
  const length = characters(plain)
  if (/[^ -~]/.test(plain))
    n.warnings.push('layout-unknown') // positions mean nothing
  else if (length === 14 && /^[A-Z]{2}/.test(plain)) international(n, hyphen)
  else if (length === 14) n.warnings.push('country-letters', 'layout-unknown')
  else if (length === 12) {
    if (hyphen) n.notes.push('separators')
    american(n)
  } else n.warnings.push('length', 'layout-unknown')
}

function american(n: HullNumber) {
  const date = n.plain.slice(8)
  const layout: Layout = /^[A-L]\d{3}$/.test(date)
    ? 'us-current'
    : /^M\d\d[A-L]$/.test(date)
      ? 'us-model-year'
      : /^(0[1-9]|1[0-2])\d\d$/.test(date)
        ? 'us-month-year'
        : 'unknown'
  if (layout === 'unknown') return badDate(n, date)
  n.layout = layout
  n.written = n.plain
  cut(n, n.plain)
  if (layout !== 'us-current') n.notes.push('layout-from-memory')
}

function international(n: HullNumber, hyphen: boolean) {
  const date = n.plain.slice(10)
  if (!/^[A-L]\d{3}$/.test(date)) return badDate(n, date)
  n.layout = 'international'
  n.country = n.plain.slice(0, 2)
  n.written = `${n.country}-${n.plain.slice(2)}`
  cut(n, n.plain.slice(2))
  if (!hyphen) n.notes.push('no-hyphen')
  if (!countries.includes(` ${n.country} `)) n.warnings.push('country-not-listed')
}

/** Maker, serial and month from the twelve characters that all layouts share. */
function cut(n: HullNumber, body: string) {
  n.maker = body.slice(0, 3)
  n.serial = body.slice(3, 8)
  if (n.layout === 'us-month-year') n.month = Number(body.slice(8, 10))
  // A is August, so that the months of a model year run from August to July.
  else if (n.layout === 'us-model-year') n.month = ((letter(body[11]) + 7) % 12) + 1
  else n.month = letter(body[8]) + 1
}

const letter = (c = 'A') => c.charCodeAt(0) - 65

function badDate(n: HullNumber, date: string) {
  n.warnings.push(/^[M-Z]/.test(date) ? 'month-letter' : 'date-characters', 'layout-unknown')
}

function mayNameBuilder(n: HullNumber): boolean {
  if (n.layout === 'unknown') return false
  if (n.layout === 'international') return !n.warnings.includes('older-than-layout')
  return !(n.maker[2] === 'Z' && states.includes(` ${n.maker.slice(0, 2)} `))
}

/** Postal codes of the states and territories that number boats. */
const states =
  ' AL AK AS AZ AR CA CO CT DC DE FL GA GU HI ID IL IN IA KS KY LA ME MD MA MI MN MP MS MO MT NE NV NH NJ NM NY NC ND OH OK OR PA PR RI SC SD TN TX UT VT VA VI WA WV WI WY '

/** Officially assigned two-letter codes of ISO 3166-1, from memory. */
const countries =
  ' AD AE AF AG AI AL AM AO AQ AR AS AT AU AW AX AZ BA BB BD BE BF BG BH BI BJ BL BM BN BO BQ BR BS BT BV BW BY BZ ' +
  'CA CC CD CF CG CH CI CK CL CM CN CO CR CU CV CW CX CY CZ DE DJ DK DM DO DZ EC EE EG EH ER ES ET FI FJ FK FM FO FR ' +
  'GA GB GD GE GF GG GH GI GL GM GN GP GQ GR GS GT GU GW GY HK HM HN HR HT HU ID IE IL IM IN IO IQ IR IS IT JE JM JO JP ' +
  'KE KG KH KI KM KN KP KR KW KY KZ LA LB LC LI LK LR LS LT LU LV LY MA MC MD ME MF MG MH MK ML MM MN MO MP MQ MR MS MT MU MV MW MX MY MZ ' +
  'NA NC NE NF NG NI NL NO NP NR NU NZ OM PA PE PF PG PH PK PL PM PN PR PS PT PW PY QA RE RO RS RU RW ' +
  'SA SB SC SD SE SG SH SI SJ SK SL SM SN SO SR SS ST SV SX SY SZ TC TD TF TG TH TJ TK TL TM TN TO TR TT TV TW TZ ' +
  'UA UG UM US UY UZ VA VC VE VG VI VN VU WF WS YE YT ZA ZM ZW '
