import { describe, expect, it } from 'vitest'
import {
  edgesOf,
  edgeWords,
  figureOf,
  figureReadings,
  flag,
  type HistoryPass,
  readOf,
  said,
  signedUnits,
  sounding,
  spots,
  stepOf,
  units,
} from './history'
import { lies, type PassContext, statements } from './statements'

const axis = {
  ids: ['plc_a', 'plc_b', 'plc_c', 'plc_d', 'plc_e'],
  labels: ['4/0', '13/3', '13/4', '13/3', '14/1'],
  sides: ['port', 'port', 'port', 'starboard', 'port'],
  stations: [4, 13, 13, 13, 14],
  rows: [0, 3, 4, 3, 1],
  along: [2000, 6500, 6500, 6500, 7000],
  down: [-250, 750, 1050, 750, 150],
  mirrors: [null, 4, null, 2, null],
}
const pass = (more: Partial<PassContext> = {}): PassContext => ({
  id: 'pas_1',
  on: '2026-10-14',
  standing: 'reference',
  standingReason: '',
  baseline: { medianFortieths: 480, scatter: 1.6, count: 16, reasons: [] },
  values: [240, 706, null, 470, 100],
  contrasts: [0, 466, null, 230, null],
  flags: [flag.dry, flag.follow, flag.unread, 0, flag.below],
  surface: 'antifouled',
  drySurface: 'bare',
  daysAshore: 21,
  instrument: { name: 'Skerrow deep No. 2' },
  instrumentAsWritten: '',
  blockChecks: [
    { block: 'low', moment: 'before', valueTenths: 312 },
    { block: 'low', moment: 'after', valueTenths: 316 },
  ],
  missing: [],
  ...more,
})
const all = spots(axis)
const at = (p: HistoryPass, slot: number) => said(p, slot)

describe('a history', () => {
  it('counts slots from ordinals and metres from millimetres', () => {
    expect(all[1]).toMatchObject({ label: '13/3', side: 'port', along: 6.5, down: 0.75, mirror: 3 })
  })

  it('writes figures no finer than they are known', () => {
    const p = pass()
    expect(figureOf(at(p, 1))).toBe('35')
    expect(figureOf(at(p, 4))).toBe('<5')
    expect(readOf(at(p, 1))).toBe('35.3')
    expect(readOf(at(p, 2))).toBe('–')
    expect(sounding(at(p, 1))).toEqual({ whole: '35', tenth: '3' })
    expect(sounding(at(p, 4))).toBeNull()
    expect([units(707), units(-20), signedUnits(466), signedUnits(0)]).toEqual(['35.35', '−1.0', '+23.3', '±0.0'])
  })

  it('takes the first edge from the baseline’s scatter and keeps the steps in order', () => {
    expect(edgesOf(pass(), [9, 15, 22])).toEqual([4, 9, 15, 22])
    const wide = edgesOf(pass({ baseline: { medianFortieths: 480, scatter: 5, count: 16, reasons: [] } }), [9, 15, 22])
    expect(wide).toEqual([12.5, 12.6, 15, 22])
    expect(edgesOf(pass({ baseline: { medianFortieths: null, scatter: null, count: 3, reasons: [] } }), [])).toBeNull()
    expect(edgeWords([4, 9, 15, 22])).toEqual(['under 4', '4 to 9', '9 to 15', '15 to 22', '22 and over'])
    expect([3.9, 4, 15, 30].map((v) => stepOf(v, [4, 9, 15, 22]))).toEqual([0, 1, 3, 4])
  })

  it('draws gaps as gaps, and a pass without a baseline as bare figures', () => {
    const drawn = figureReadings(all, pass(), [4, 9, 15, 22])
    expect(drawn.map(({ step, gap }) => gap ?? step)).toEqual([0, 4, 'unread', 2, -1])
    expect(figureReadings(all, pass(), null).every(({ step }) => step === -1)).toBe(true)
  })
})

describe('what may be said', () => {
  const tank = {
    what: 'water tank, 110 L',
    side: 'port' as const,
    outline: [
      [5.6, 0.3],
      [7.1, 0.3],
      [7.1, 1.2],
      [5.6, 1.2],
    ] as [number, number][],
  }
  const text = (p: PassContext) =>
    statements(all, p, edgesOf(p, [9, 15, 22]), [tank]).map(({ runs, proof }) => `${runs.join('')} [${proof}]`)

  it('gives the level above the hull’s own baseline, with its proof', () => {
    expect(text(pass())[0]).toBe(
      'The underbody, antifouled, stood 17.4 above this hull’s own dry baseline, 12.0 on bare topsides. [2 places against 16; scatter 1.6 (1.4826 × MAD); low block drifted 0.4]',
    )
  })

  it('says where a high place lies, what is behind it and how its mirror stands', () => {
    expect(text(pass())[1]).toContain(
      '1 place stands 22 or more above the baseline: port 13/3. Mirror lower by 9 or more at 1 of 1. 1 lies over the water tank, 110 L.',
    )
  })

  it('says of two passes nothing at all: that is the service’s', () => {
    expect(text(pass()).join(' ')).not.toMatch(/since|chang|trend|risen|fallen|dry hull|%/i)
  })

  it('says what is missing, and that a pass without a baseline stands above nothing', () => {
    expect(text(pass({ missing: [{ text: 'Hours since the wash are not stated.' }] })).at(-1)).toContain(
      'Worth less: hours since the wash are not stated.',
    )
    const none = { medianFortieths: null, scatter: null, count: 3, reasons: [{ text: 'Only three dry places.' }] }
    expect(text(pass({ baseline: none }))).toEqual([
      'No dry baseline: readings are shown as taken and stand above nothing. [Only three dry places.]',
    ])
  })

  it('finds a place over an outline on its own side only', () => {
    expect([lies(all[1]!, tank), lies(all[3]!, tank), lies(all[4]!, tank)]).toEqual([true, false, false])
  })
})
