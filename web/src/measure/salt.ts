import { type Band, between } from './refuse'

/** One extraction from the skin. Volume and area are stored with every result. */
export interface Patch {
  /** Water, mL. */
  volume: number
  /** Skin it stood on, mm². */
  area: number
  /** Conductivity after less that of the water before, µS/cm. */
  rise: number
  /** How far each may be off, plus or minus; 0 where it is not known. */
  volumeOff?: number
  riseOff?: number
}

/** Skin under a patch of ISO 8502-6, mm². */
export const patchArea = 1250

/**
 * Soluble salts, mg/m²: 5 · volume · rise / area in SI units (ISO 8502-9, from memory). The bounds are what the stated
 * limits could hide. No limit exists for glass-fibre hulls, and conductivity is blind to glycol.
 */
export function massPerArea(p: Patch): Band {
  const { volume, area, rise, volumeOff = 0, riseOff = 0 } = p
  between('volume', volume, 0.01, 1000, 'mL')
  between('area', area, 1, 1e6, 'mm²')
  between('rise', rise, 0, 1e5, 'µS/cm')
  between('volumeOff', volumeOff, 0, 1000, 'mL')
  between('riseOff', riseOff, 0, 1e5, 'µS/cm')
  // mL → m³, µS/cm → S/m, mm² → m², kg → mg
  const mass = (v: number, r: number) => ((5 * (v * 1e-6) * (r * 1e-4)) / (area * 1e-6)) * 1e6
  return {
    value: mass(volume, rise),
    lower: mass(Math.max(0, volume - volumeOff), Math.max(0, rise - riseOff)),
    upper: mass(volume + volumeOff, rise + riseOff),
    notes: ['no-limit-for-grp', 'blind-to-glycol'],
  }
}
