import { describe, expect, it } from 'vitest'
import {
  bandWords,
  figureChange,
  type Gate,
  gateSays,
  placeWords,
  saidOf,
  setOut,
  tells,
  verdictAt,
  zoneRows,
} from './gate'
import { spots } from './history'

const all = spots({
  ids: ['plc_a', 'plc_b', 'plc_c', 'plc_d', 'plc_e'],
  labels: ['4/0', '13/3', '13/4', '13/3', '14/1'],
  sides: ['port', 'port', 'port', 'starboard', 'port'],
  stations: [4, 13, 13, 13, 14],
  rows: [0, 3, 4, 3, 1],
  along: [2000, 6500, 6500, 6500, 7000],
  down: [-250, 750, 1050, 750, 150],
  mirrors: [null, 4, null, 2, null],
})
const untold = [{ code: 'not-read', text: 'Not read at one of the two.', todo: 'Read it again.', places: 1 }]
const hull = {
  answer: 'noChangeShown',
  places: 3,
  difference: { value: 0.4, low: -0.8, high: 1.6 },
  least: 2.1,
  untold: [],
} as const
const gate: Gate = {
  earlier: 'pas_1',
  later: 'pas_2',
  hull,
  zones: [{ name: 'port forward', slots: [1, 2, 4], verdict: { ...hull, answer: 'changed' } }],
  verdicts: [null, 2, 0, 1, 2],
  differences: [null, 174, null, 9, -134],
  lows: [null, 102, null, -20, null],
  highs: [null, 246, null, 38, -60],
  leasts: [null, 124, null, 124, 124],
  whys: ['', '', 'not-read', '', ''],
  comparable: 3,
  ofPlaces: 4,
  dryPlaces: 1,
  leastChange: 6.2,
  explained: [],
  untold,
  statements: [],
}

describe('what the service says of two passes', () => {
  it('gives each place its verdict, its doubt beside the number, and why where it cannot tell', () => {
    expect([0, 1, 2, 3, 4].map((slot) => verdictAt(gate, slot)?.said ?? null)).toEqual([
      null,
      'up',
      'untold',
      'none',
      'down',
    ])
    expect(verdictAt(gate, 2)?.why).toBe('Not read at one of the two.')
    const said = [1, 2, 3, 4].map((slot) =>
      placeWords(verdictAt(gate, slot) as NonNullable<ReturnType<typeof verdictAt>>),
    )
    expect(said).toEqual(['+8.7 (+5.1 to +12.3)', '', '+0.5 (−1.0 to +1.9)', '−6.7 (no less known to −3.0)'])
    expect(bandWords({ value: 1.5 })).toBe('+1.5')
  })

  it('draws a change only where the service judged one', () => {
    expect(figureChange(all, gate).map(({ name, said, by }) => [name, said, by])).toEqual([
      ['port 13/3', 'up', '+9'],
      ['port 13/4', 'untold', undefined],
      ['starboard 13/3', 'none', '±0'],
      ['port 14/1', 'down', '−7'],
    ])
    expect(tells(gate)).toBe(true)
    expect(tells({ ...gate, verdicts: [null, 0, 0, 0, 0] })).toBe(false)
  })

  it('sets the hull at large before its zones', () => {
    const rows = zoneRows(gate)
    expect(rows.map(({ name, slots, verdict }) => [name, slots, saidOf(verdict)])).toEqual([
      ['the hull at large', [1, 2, 3, 4], 'none'],
      ['port forward', [1, 2, 4], 'up'],
    ])
    expect(saidOf({ answer: 'changed', difference: null })).toBe('untold')
  })

  it('puts the proof behind its sentence, with the least change of the hull beside the difference', () => {
    const plain = { runs: ['x'], slots: [], figures: [] }
    const statements = [
      {
        ...plain,
        code: 'at-large',
        claim: 'not shown',
        figures: [{ code: 'difference', value: 0.4, unit: 'scale units' }],
      },
      { ...plain, code: 'areas-changed', claim: 'compared', slots: [4] },
      { ...plain, code: 'change-basis', claim: 'compared', runs: ['Like with like.'] },
      { ...plain, code: 'changed-at', claim: 'compared', runs: ['Changed at 1 place.'] },
      { ...plain, code: 'two-visits', claim: 'untold' },
    ]
    const says = gateSays({ ...gate, statements })
    expect(says.map(({ code, mark, proof }) => [code, mark, proof])).toEqual([
      ['at-large', 'none', '3 of 4 places; difference +0.4; least change shown 2.1'],
      ['areas-changed', 'down', 'Changed at 1 place.'],
    ])
    expect(says[0]?.behind).toEqual(['Like with like.', 'x'])
    const alone = gateSays({ ...gate, statements: [{ ...plain, code: 'not-compared', claim: 'untold' }] })
    expect(alone.map(({ code }) => code)).toEqual(['not-compared'])
  })

  it('sets a sentence out with its mark, its figures in words and its places', () => {
    const at = setOut({
      code: 'at-large',
      claim: 'compared',
      runs: ['Readings have ', 'fallen', '.'],
      slots: [1, null, 3],
      figures: [
        { code: 'difference', value: -1.5, low: -3.2, high: 0.2, unit: 'scale units' },
        { code: 'bared', value: 0.14, low: null, high: null, unit: 'm²' },
      ],
    })
    expect(at).toMatchObject({ mark: 'down', slots: [1, 3] })
    expect(at.proof).toBe('2 places; difference −1.5 (−3.2 to +0.2); bared 0.1 m²')
    expect(setOut({ code: 'x', claim: 'a kind to come', runs: ['So.'], slots: [], figures: [] })).toMatchObject({
      mark: 'record',
      proof: '',
    })
  })
})
