import { between, Unusable } from './refuse'

/** A time ashore at about one temperature of the wall. */
export interface Stretch {
  days: number
  /** °C */
  at: number
}

/** What is known of a laminate's diffusivity at 20 °C, m²/s, and how it goes with temperature, J/mol. */
export interface Diffusivity {
  low: number
  typical: number
  high: number
  activation: number
}

/** Polyester laminate through its thickness: from memory, not confirmed in a source; the spread is the message. */
export const polyester: Diffusivity = { low: 0.3e-12, typical: 1e-12, high: 3e-12, activation: 40e3 }

const gasConstant = 8.314462618
const kelvin = (t: number) => t + 273.15

/** By how much diffusion at t °C outruns that at 20 °C: exp(−E/R·(1/T − 1/T₂₀)). */
export function arrhenius(t: number, activation: number): number {
  between('t', t, -100, 200, '°C')
  between('activation', activation, 0, 1e6, 'J/mol')
  return Math.exp((-activation / gasConstant) * (1 / kelvin(t) - 1 / kelvin(20)))
}

/** The days at 20 °C in which diffusion would do what it did over the course. */
export function equivalentDays(course: readonly Stretch[], activation: number): number {
  if (course.length === 0) throw new Unusable('course', 'must have at least one stretch')
  let days = 0
  for (const [i, s] of course.entries()) {
    between(`course[${i}].days`, s.days, 0, 1e6)
    between(`course[${i}].at`, s.at, -100, 200, '°C')
    days += s.days * arrhenius(s.at, activation)
  }
  return days
}

/** How far in a bare laminate is half dried, mm: for the ends of the range and for its typical value. */
export interface Depth {
  low: number
  typical: number
  high: number
  /** 'below-freezing', 'too-hot' (above 45 °C), 'through' (the whole wall at the fast end). */
  notes: string[]
}

/**
 * The depth from the open face that has lost half of what it held above the air's level: a band over the range of
 * diffusivity, never a date and never what a reading speaks for. Bare laminate, dry outer face throughout.
 *
 *   course  stretches ashore, any order
 *   wall    thickness, mm, inner face sealed; 0 where it is not known
 *
 * Crank, The Mathematics of Diffusion, 2nd ed. 1975, §2.4.3: erf(x/(2√(D t))) = ½; in a wall of known thickness
 * eq. 4.17 solved for ½ (equation numbers from memory).
 */
export function dryingDepth(course: readonly Stretch[], wall = 0, d: Diffusivity = polyester): Depth {
  if (wall !== 0) between('wall', wall, 1e-3, 1e4, 'mm')
  for (const end of ['low', 'typical', 'high'] as const) between(`d.${end}`, d[end], 1e-20, 1e-6, 'm²/s')
  const seconds = equivalentDays(course, d.activation) * 86400
  const [low, typical, high] = [d.low, d.typical, d.high].map((each) => halfDried(each * seconds, wall)) as [
    number,
    number,
    number,
  ]
  const notes = [
    ...(course.some(({ at }) => at < 0) ? ['below-freezing'] : []),
    ...(course.some(({ at }) => at > 45) ? ['too-hot'] : []),
    ...(wall > 0 && high >= wall ? ['through'] : []),
  ]
  return { low, typical, high, notes }
}

/** erf⁻¹(½) */
const erfHalf = 0.4769362762044699

/** In mm, from D·t in m². */
function halfDried(dt: number, wall: number): number {
  const open = 2 * erfHalf * Math.sqrt(dt) * 1000
  const f = wall === 0 ? 0 : dt / (2 * wall * 1e-3) ** 2
  if (f < 1e-4) return open // the sealed face does not matter yet
  if (left(0.5, f) <= 0.5) return wall
  let [low, high] = [0, 0.5]
  for (let i = 0; i < 60; i++) {
    const z = (low + high) / 2
    if (left(z, f) < 0.5) low = z
    else high = z
  }
  return (low + high) * wall
}

/** What is left at a share z of a sheet twice the wall, Fourier number f: eq. 4.17, to the last bit from f = 1e-4. */
function left(z: number, f: number): number {
  let sum = 0
  for (let k = 1; k < 400; k += 2) {
    const term = Math.exp(-k * k * Math.PI * Math.PI * f) / k
    if (term < 1e-17) break
    sum += term * Math.sin(k * Math.PI * z)
  }
  return (4 / Math.PI) * sum
}
