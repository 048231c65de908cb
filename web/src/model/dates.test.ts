import { describe, expect, it, vi } from 'vitest'
import {
  clock,
  dayIn,
  dayNumber,
  dayOf,
  instantOf,
  longDay,
  monday,
  shortDay,
  spanTime,
  timeIn,
  weekdayLong,
  weekOf,
  yearOf,
} from './dates'

describe('dates', () => {
  it('writes days as the book does', () => {
    expect(shortDay('2026-10-14')).toBe('14 Oct 2026')
    expect(longDay('2026-10-14T08:00:00Z')).toBe('14 October 2026')
    expect(weekdayLong('2026-10-14')).toBe('Wednesday 14 October')
  })
  it('finds the day in the yard’s own zone', () => {
    expect(dayIn('2026-06-30T23:30:00Z', 'Europe/London')).toBe('2026-07-01')
    expect(dayIn('2026-06-30T23:30:00Z', 'America/New_York')).toBe('2026-06-30')
    expect(timeIn('2026-10-14T08:00:00Z', 'Europe/London')).toBe('09:00')
  })
  it('says the day of a span once', () => {
    expect(spanTime('2026-10-14T08:00:00Z', '2026-10-14T11:00:00Z', 'Europe/Dublin')).toBe('Wed 14 Oct, 09:00 to 12:00')
    expect(spanTime('2026-10-14T08:00:00Z', '2026-10-20T16:00:00Z', 'Europe/Dublin', shortDay)).toBe(
      '14 Oct 2026, 09:00 to 20 Oct 2026, 17:00',
    )
    // At the date line the yard's day counts: 23:30 and 01:30 in UTC are one morning there.
    expect(spanTime('2026-10-14T21:00:00Z', '2026-10-14T23:30:00Z', 'Pacific/Kiritimati')).toBe(
      'Thu 15 Oct, 11:00 to 13:30',
    )
  })
  it('numbers weeks as ISO 8601 does', () => {
    // ISO 8601 examples: 2008-12-29 is in week 1 of 2009, 2010-01-03 in week 53 of 2009.
    expect([weekOf('2026-10-14'), weekOf('2008-12-29'), weekOf('2010-01-03')]).toEqual([42, 1, 53])
    expect(monday('2026-10-18')).toBe('2026-10-12')
    expect(monday('2026-10-12')).toBe('2026-10-12')
    expect(monday('1969-12-31')).toBe('1969-12-29')
  })
  it('counts days and back', () => {
    expect(dayNumber('2026-10-14') - dayNumber('2026-09-23')).toBe(21)
    expect(dayOf(dayNumber('2028-02-29'))).toBe('2028-02-29')
    expect(yearOf('2026-07-02')).toBeCloseTo(2026.5, 2)
  })
  it('turns wall-clock times into instants on both sides of a clock change', () => {
    expect(instantOf('2026-10-14', '09:00', 'Europe/London')).toBe('2026-10-14T08:00:00.000Z')
    expect(instantOf('2026-12-14', '09:00', 'Europe/London')).toBe('2026-12-14T09:00:00.000Z')
    expect(instantOf('2026-03-29', '03:00', 'Europe/London')).toBe('2026-03-29T02:00:00.000Z')
  })
  it('takes the earlier of a time that occurs twice, east and west of Greenwich', () => {
    expect(instantOf('2026-10-25', '01:30', 'Europe/Dublin')).toBe('2026-10-25T00:30:00.000Z')
    expect(instantOf('2026-10-25', '02:30', 'Europe/Berlin')).toBe('2026-10-25T00:30:00.000Z')
    expect(instantOf('2026-11-01', '01:30', 'America/New_York')).toBe('2026-11-01T05:30:00.000Z')
    expect(instantOf('2026-04-05', '01:45', 'Australia/Lord_Howe')).toBe('2026-04-04T14:45:00.000Z')
    expect(instantOf('2026-10-25', '03:00', 'Europe/Berlin')).toBe('2026-10-25T02:00:00.000Z')
  })
  it('says of an instant its day on this device, as its time of day is', () => {
    const night = '2026-11-30T03:10:00Z'
    const zone = vi.spyOn(Intl.DateTimeFormat.prototype, 'resolvedOptions')
    zone.mockReturnValue({ timeZone: 'America/New_York' } as Intl.ResolvedDateTimeFormatOptions)
    expect(`${shortDay(night)}, ${clock(night)}`).toBe('29 Nov 2026, 22:10')
    expect(longDay(night)).toBe('29 November 2026')
    expect(longDay('2026-11-30')).toBe('30 November 2026')
    zone.mockRestore()
  })
  it('is asked for today where the yard is, in no form in Greenwich or where the device is', () => {
    const forms = import.meta.glob<string>('../features/**/*.tsx', { query: '?raw', import: 'default', eager: true })
    const elsewhere = /toISOString\(\)\.slice\(0, 10\)|T\d\d:\d\d(:\d\d)?`\)|Day\([\w.]*([aA]t|[oO]n)\.slice\(0, 10\)/
    expect(Object.keys(forms).filter((name) => elsewhere.test(forms[name] ?? ''))).toEqual([])
  })
})
