import { describe, expect, it } from 'vitest'
import { dayOffset, daysAshoreAt, hoursOf, reachOf, spanOf, stack, touches } from './board'

const zone = 'Europe/London'
const monday = '2026-10-12'

describe('a week', () => {
  it('measures in days of the yard’s own zone', () => {
    expect(dayOffset('2026-10-12T23:00:00Z', monday, zone)).toBe(1)
    expect(dayOffset('2026-10-14T08:00:00Z', monday, zone)).toBeCloseTo(2.375)
  })
  it('cuts what runs on, and leaves out what lies elsewhere', () => {
    expect(spanOf('2026-09-23T10:00:00Z', '2026-10-30T14:00:00Z', monday, zone)).toEqual({
      from: 0,
      to: 7,
      before: true,
      after: true,
    })
    expect(spanOf('2026-10-13T11:00:00Z', null, monday, zone)).toMatchObject({ from: 1.5, to: 7, after: true })
    expect(spanOf('2026-10-01T00:00:00Z', '2026-10-11T23:00:00Z', monday, zone)).toBeNull()
    expect(spanOf('2026-10-19T00:00:00Z', null, monday, zone)).toBeNull()
  })
  it('stacks without overlap, one beginning where another ends', () => {
    const item = (from: number, to: number) => ({ span: { from, to, before: false, after: false } })
    expect(stack([item(0, 2), item(1, 3), item(2, 4)]).map((line) => line.length)).toEqual([2, 1])
  })
  it('leaves room for words that stand beside a bar too short for them', () => {
    const bar = (from: number, to: number) => reachOf({ from, to, before: false, after: false }, 50, 112)
    expect(bar(0, 40)).toEqual({ beside: null, from: 0, to: 40 })
    const early = bar(2, 4)
    expect(early).toMatchObject({ beside: 'right', from: 2 })
    expect(early.to).toBeCloseTo(4 + (50 / 135) * 112)
    const late = bar(100, 104)
    expect(late).toMatchObject({ beside: 'left', to: 104 })
    expect(late.from).toBeCloseTo(100 - (50 / 135) * 112)
    // What would lie under the words goes on a line of its own.
    expect(stack([{ span: early }, { span: bar(10, 60) }, { span: bar(50, 90) }]).map((line) => line.length)).toEqual([
      2, 1,
    ])
  })
  it('puts a visit on the day of its yard, across the clocks and the date line', () => {
    // IANA tz database: Dublin leaves summer time on 25 October 2026, Kiritimati is 14 hours ahead of UTC.
    const late = { from: '2026-10-24T23:30:00Z', to: '2026-10-25T00:30:00Z', timeZone: 'Europe/Dublin' }
    expect(touches(late, '2026-10-25')).toBe(true)
    expect(touches(late, '2026-10-24')).toBe(false)
    const line = { from: '2026-10-18T18:00:00Z', to: '2026-10-18T20:00:00Z', timeZone: 'Pacific/Kiritimati' }
    expect([touches(line, '2026-10-18'), touches(line, '2026-10-19')]).toEqual([false, true])
    expect(hoursOf(line)).toBe('08:00 to 10:00')
    const night = { from: '2026-10-18T20:00:00Z', to: '2026-10-18T23:00:00Z', timeZone: 'Europe/Dublin' }
    expect(touches(night, '2026-10-19')).toBe(false) // ends at midnight
    expect(daysAshoreAt('2026-10-20T08:00:00Z', '2026-10-27T09:00:00Z', 'Europe/Dublin')).toBe(7)
    expect(daysAshoreAt('2026-10-20T08:00:00Z', '2026-10-19T09:00:00Z', 'Europe/Dublin')).toBeNull()
  })
})
