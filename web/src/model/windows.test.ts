import { describe, expect, it } from 'vitest'
import { parseSpan, spanText, spanWords, windowWords } from './windows'

describe('windows of the next look', () => {
  it.each([
    ['6-12 m', { fromMonths: 6, fromDays: 0, toMonths: 12, toDays: 0 }],
    ['7 to 14 days', { fromMonths: 0, fromDays: 7, toMonths: 0, toDays: 14 }],
    ['24m', { fromMonths: 24, fromDays: 0, toMonths: 24, toDays: 0 }],
  ])('reads %s', (text, span) => {
    expect(parseSpan(text)).toEqual(span)
    expect(parseSpan(spanText(span))).toEqual(span)
  })
  it.each(['', 'soon', '12-6 m', '6-12', '-3 m', '1.5 m'])('does not read %j', (text) => {
    expect(parseSpan(text)).toBeNull()
  })
  it('says them in words', () => {
    const span = (fromMonths: number, toMonths: number) => ({ fromMonths, fromDays: 0, toMonths, toDays: 0 })
    expect(spanWords(span(6, 12))).toBe('after 6 months to 12 months')
    expect(spanWords(span(24, 24))).toBe('after 24 months')
    expect(spanWords(span(0, 0))).toBe('at once')
    expect(spanWords(span(3, 0), true)).toBe('3 months before it ends')
  })
  it('says what has no day as what it waits for', () => {
    expect(windowWords({ dueFrom: '2026-04-07', dueTo: '2026-04-07', waitsFor: 'launch' })).toBe(
      'before she is launched',
    )
    expect(windowWords({ dueFrom: '2027-04-01', dueTo: '2027-04-30', waitsFor: '' })).toBe('1 Apr to 30 Apr 2027')
    expect(windowWords({ dueFrom: '2026-10-06', dueTo: '2027-04-06', waitsFor: '' })).toBe('6 Oct 2026 to 6 Apr 2027')
  })
})
