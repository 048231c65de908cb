import { describe, expect, it } from 'vitest'
import { clashes, dayOffset, spanOf, stack } from './board'

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
  it('finds one surveyor in two places, and nobody else', () => {
    const visit = (id: string, lead: string | null, from: string, to: string) => ({
      id,
      lead,
      from: `2026-10-14T${from}Z`,
      to: `2026-10-14T${to}Z`,
    })
    const found = clashes([
      visit('a', 'x', '08:00', '10:00'),
      visit('b', 'x', '10:00', '11:00'),
      visit('c', 'x', '09:00', '09:30'),
      visit('d', 'y', '09:00', '09:30'),
      visit('e', null, '09:00', '09:30'),
    ])
    expect(found.map(([a, b]) => a.id + b.id)).toEqual(['ac'])
  })
})
