/** The years a number can stand for, and codes of what is odd about them. */
export interface Dated {
  /** Nearest to the model year first. */
  years: number[]
  /** Usually one. */
  modelYears: number[]
  warnings: string[]
  notes: string[]
}

/** 33 CFR 181: nothing was required before 1 November 1972. */
const firstRule = 1972
/** Model year the present American layout begins with; from memory. */
const firstCurrent = 1984
const lastOldLayouts = 1984
/** First edition of ISO 10087. */
const firstInternational = 1995
/** How many years a model year may run ahead of the calendar; common practice, no source. */
const ahead = 2

/** Finds the years of the date characters, in a body of maker, serial and date. */
export function resolveYears(n: Dated, layout: string, body: string, month: number, now: number): void {
  if (layout === 'us-month-year') monthYear(n, 1900 + Number(body.slice(10)), month)
  else if (layout === 'us-model-year') modelYear(n, 1900 + Number(body.slice(9, 11)), month)
  else yearDigit(n, Number(body[9]), Number(body.slice(10)), now)
  checkTime(n, layout, now)
}

function monthYear(n: Dated, year: number, month: number) {
  n.years = [year]
  if (year < firstRule || year > lastOldLayouts || (year === firstRule && month < 11))
    n.warnings.push('outside-layout-years')
}

function modelYear(n: Dated, model: number, month: number) {
  const year = month >= 8 ? model - 1 : model // the model year began in the August before
  n.modelYears = [model]
  n.years = [year]
  if (year < firstRule || model > lastOldLayouts) n.warnings.push('outside-layout-years')
}

/**
 * The one digit of the year beside the model year. The decade is not in the number; the nearest year wins, which is
 * this project's own rule and part of no standard.
 */
function yearDigit(n: Dated, digit: number, twoDigits: number, now: number) {
  n.modelYears = [1900 + twoDigits, 2000 + twoDigits].filter((y) => y >= firstRule && y <= now + ahead)
  const model = n.modelYears.at(-1)
  if (model === undefined) {
    n.warnings.push('model-year-impossible')
    for (let y = firstRule; y <= now; y++) if (y % 10 === digit) n.years.push(y)
    return
  }
  const years = new Set(n.modelYears.flatMap((each) => nearest(digit, each, now)))
  const away = (y: number) => Math.abs(y - model)
  n.years = [...years].sort((a, b) => a - b).sort((a, b) => away(a) - away(b))
  checkApart(n, model)
}

/** One year, or two where both are five away; none in the future. */
function nearest(digit: number, model: number, now: number): number[] {
  const years: number[] = []
  for (let y = model - 9; y <= model + 9 && y <= now; y++) if (y % 10 === digit) years.push(y)
  const best = Math.min(...years.map((y) => Math.abs(y - model)))
  return years.filter((y) => Math.abs(y - model) === best)
}

function checkApart(n: Dated, model: number) {
  const year = n.years[0]
  if (year === undefined) return // said by checkTime
  if (n.modelYears.length > 1) n.warnings.push('century-open')
  else if (n.years.length > 1) n.warnings.push('years-open')
  else if (year > model) n.warnings.push('made-after-model-year')
  else if (year < model - 1) n.warnings.push('years-apart')
  else n.notes.push('year-resolved')
}

/** Dates before the layout existed, or after the day of reading. */
function checkTime(n: Dated, layout: string, now: number) {
  if (n.years.length === 0) {
    n.warnings.push('in-the-future')
    return
  }
  if (Math.max(...n.years) > now) n.warnings.push('in-the-future')
  if (n.modelYears.length === 0) return
  const model = Math.max(...n.modelYears)
  if ((layout === 'us-current' && model < firstCurrent) || (layout === 'international' && model < firstInternational))
    n.warnings.push('older-than-layout')
}
