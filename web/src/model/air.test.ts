import { describe, expect, it } from 'vitest'
import { readAir, tenthsOf } from './air'

describe('a log of the air', () => {
  it('is read line by line in the yard’s zone, bad lines named', () => {
    const { records, faults } = readAir(
      'day;time;air;RH\n2026-07-14;08:00;14,5;78\n14.7.2026;20:00;−2 °C;81.5 %\n2026-07-15;08:00;14.5;\n2026-07-15;25:00;14;70\n2026-07-16;08:00;14;0',
      'Europe/Dublin',
    )
    expect(records).toEqual([
      { at: '2026-07-14T07:00:00.000Z', airDecidegrees: 145, humidityPermille: 780 },
      { at: '2026-07-14T19:00:00.000Z', airDecidegrees: -20, humidityPermille: 815 },
    ])
    expect(faults.map(({ line }) => line)).toEqual([4, 5, 6])
    expect(faults[0]?.text).toContain('humidity')
    expect(faults[1]?.text).toContain('no time of day')
  })
  it('takes a logger’s own instants with their offset', () => {
    expect(readAir('2026-07-14T08:00:00+02:00, 14.5, 78', 'Europe/Dublin').records[0]?.at).toBe(
      '2026-07-14T06:00:00.000Z',
    )
  })
  it.each([
    ['14.54', 145],
    ['0', 0],
    ['-0,4', -4],
    ['100 % RH', 1000],
    ['x', undefined],
    ['', undefined],
    ['1e3', undefined],
  ])('reads %j as %s tenths', (text, tenths) => expect(tenthsOf(text)).toBe(tenths))
})
