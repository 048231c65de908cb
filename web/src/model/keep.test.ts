import { describe, expect, it } from 'vitest'
import { flag } from './history'
import {
  asTyped,
  batches,
  type Entries,
  type GridPlace,
  gridPlaces,
  heldTexts,
  unsent,
  workCount,
  workOf,
} from './keep'

const scale = { instrument: 'Skerrow deep No. 2', least: 0, most: 1000 }
const places: GridPlace[] = gridPlaces(
  {
    ids: ['plc_a', 'plc_b', 'plc_c', 'plc_d'],
    labels: ['1/0', '1/1', '1/2', '2/1'],
    sides: ['port', 'port', 'port', 'port'],
    stations: [1, 1, 1, 2],
    rows: [0, 1, 2, 1],
    along: [500, 500, 500, 1000],
    down: [-250, 150, 450, 150],
  },
  { places: [1, 2, 4, 3], dry: [1] },
)
const entries: Entries = {
  ids: ['rdg_1', 'rdg_2', null, null],
  placements: [[120, 124, 122], null, null, null],
  flags: [flag.dry, flag.above | flag.follow, 0, 0],
  written: [null, '>100', null, null],
}
const gaps = [{ place: 3, reason: 'prop pad' }]
const held = heldTexts(places, entries, gaps)
const work = (change: Record<string, string>) => workOf(places, { ...held, ...change }, held, entries, scale)

describe('keeping a grid', () => {
  it('writes what is held as it would be typed', () => {
    expect(held).toEqual({ plc_a: '12.0 12.4 12.2', plc_b: '>100 !', plc_c: 'n prop pad' })
    expect(workCount(work({}))).toBe(0)
  })

  it('sends a new reading as placements, a limit as written', () => {
    expect(work({ plc_d: '21,4 21,0 !' }).fresh).toEqual([
      { ordinal: 4, placements: [214, 210], written: null, follow: true },
    ])
    expect(work({ plc_d: '15–20' }).fresh).toEqual([{ ordinal: 4, placements: null, written: '15–20', follow: false }])
  })

  it('takes a place as reached once it is read', () => {
    const done = work({ plc_c: '22' })
    expect(done.reached).toEqual([3])
    expect(done.fresh).toHaveLength(1)
  })

  it('corrects what is held, and does not correct what only looks different', () => {
    expect(work({ plc_a: '12.0 12.4 12.3' }).corrections).toEqual([
      { ordinal: 1, reading: 'rdg_1', placements: [120, 124, 123], written: null },
    ])
    expect(workCount(work({ plc_a: '12,0 / 12,4 / 12,2' }))).toBe(0)
  })

  it('moves the mark to follow up without touching the reading', () => {
    const done = work({ plc_b: '>100', plc_a: '12.0 12.4 12.2 !' })
    expect([done.followOff, done.followOn, done.corrections]).toEqual([[2], [1], []])
  })

  it('voids with a reason and never by emptying', () => {
    expect(work({ plc_a: 'x pads rocked' }).voids).toEqual([{ ordinal: 1, reading: 'rdg_1', reason: 'pads rocked' }])
    expect(work({ plc_a: '' }).emptied).toEqual(['plc_a'])
    expect(work({ plc_d: 'n rail in the way' }).unread).toEqual([{ ordinal: 4, reason: 'rail in the way' }])
  })

  it('keeps what it does not understand in the grid', () => {
    const done = work({ plc_d: '140' })
    expect(done.wrong[0]?.why).toContain('0.0 to 100.0')
    expect(workCount(done)).toBe(0)
  })

  it('sends no reading twice: not one that waits for its answer, nor one answered and not shown yet', () => {
    const { fresh } = work({ plc_c: '22', plc_d: '21,4' })
    const waiting = [{ places: [3], placements: [[220]] }]
    expect(unsent(fresh, waiting, new Set([4]))).toEqual([])
    expect(unsent(fresh, [], new Set([4])).map(({ ordinal }) => ordinal)).toEqual([3])
  })

  it('knows which readings of a batch were typed anew while it waited', () => {
    const { fresh } = work({ plc_c: '22', plc_d: '21,4 !' })
    const batch = { places: [3, 4, 7], placements: [[220], [214], [100]], written: [null, null, null] }
    expect(asTyped({ ...batch, followUp: [0, 1, 0] }, fresh).toSorted()).toEqual([3, 4])
    expect(asTyped({ ...batch, followUp: [0, 0, 0] }, fresh)).toEqual([3])
    expect(asTyped({ ...batch, placements: [[225], [214], [100]], followUp: [0, 1, 0] }, fresh)).toEqual([4])
    const [limit] = work({ plc_d: '15–20' }).fresh
    expect(limit && asTyped({ places: [4], placements: [null], written: ['>100'] }, [limit])).toEqual([])
  })

  it('cuts batches at two hundred', () => {
    expect(batches(Array.from({ length: 401 }, (_, i) => i)).map((batch) => batch.length)).toEqual([200, 200, 1])
    expect(batches([])).toEqual([])
  })
})
