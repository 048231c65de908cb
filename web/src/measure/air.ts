import { type Band, between } from './refuse'

/**
 * Relative humidity is over liquid water at every temperature, below 0 °C too. Coefficients of Sonntag 1990 in the
 * Magnus form, as in WMO-No. 8 annex 4.B: e = 611.2 exp(a t/(b + t)) Pa. The pair over ice is from memory.
 */
const water = { a: 17.62, b: 243.12 }
const ice = { a: 22.46, b: 272.62 }
const magnus = 611.2

const temperature = (name: string, t: number) => between(name, t, -45, 80, '°C')
const humidity = (name: string, h: number) => between(name, h, 0.1, 100, '%')

const pressure = (t: number) => magnus * Math.exp((water.a * t) / (water.b + t))

/** Where air of t °C and h % begins to wet a surface, °C: γ = ln(h/100) + a t/(b + t), then b γ/(a − γ). */
export function dewPoint(t: number, h: number): number {
  temperature('t', t)
  humidity('h', h)
  const g = Math.log(h / 100) + (water.a * t) / (water.b + t)
  return (water.b * g) / (water.a - g)
}

/** Where hoar begins, °C; null where dew comes first, above 0 °C. */
export function frostPoint(t: number, h: number): number | null {
  if (dewPoint(t, h) > 0) return null
  const g = Math.log((pressure(t) * h) / 100 / magnus)
  return (ice.b * g) / (ice.a - g)
}

/** Relative humidity, %, of the same air where it is at another temperature; above 100 it condenses. */
export function atSurface(t: number, h: number, surface: number): number {
  temperature('t', t)
  humidity('h', h)
  temperature('surface', surface)
  return (h * pressure(t)) / pressure(surface)
}

/** Water in the air, g/m³, as an ideal gas: 1000 e/(461.5 T). */
export function absoluteHumidity(t: number, h: number): number {
  temperature('t', t)
  humidity('h', h)
  return (1000 * pressure(t) * (h / 100)) / (461.5 * (t + 273.15))
}

/** How far each sensor may be off, plus or minus. */
export interface Sensors {
  air: number
  surface: number
  humidity: number
}

/** Usual limits of hand instruments, °C, °C and %; from memory, an editable default. */
export const handheld: Sensors = { air: 0.5, surface: 1, humidity: 3 }

/** How far above the dew point a surface is wanted for coating, °C: widely quoted from ISO 8502-4, written for steel. */
export const leastMargin = 3

/**
 * How far the surface stands above the dew point, °C, negative where water condenses on it. Lower and upper are what
 * sensors within their limits could hide, not an interval of stated coverage.
 */
export function margin(t: number, h: number, surface: number, off: Sensors = handheld): Band {
  temperature('t', t)
  humidity('h', h)
  temperature('surface', surface)
  for (const [name, x] of Object.entries(off)) between(`off.${name}`, x, 0, 20)
  const at = (side: number) => {
    const damp = Math.min(100, Math.max(0.1, h + side * off.humidity))
    const warm = t + side * off.air
    const g = Math.log(damp / 100) + (water.a * warm) / (water.b + warm)
    return surface - side * off.surface - (water.b * g) / (water.a - g)
  }
  const value = at(0)
  const notes = [...(surface < 0 ? ['below-freezing'] : []), ...(value <= 0 ? ['condensing'] : [])]
  return { value, lower: at(1), upper: at(-1), notes }
}

/** Whether a margin is at least so much, before any rounding and with its doubt. */
export function standing(m: Band, least = leastMargin): 'met' | 'not met' | 'cannot tell' {
  if (m.lower >= least) return 'met'
  return m.upper < least ? 'not met' : 'cannot tell'
}
