import { describe, expect, it } from 'vitest'
import { readTides } from './tides'

describe('a table of high waters', () => {
  it('is read with semicolons, commas, tabs or spaces, in the yard’s own time', () => {
    const wanted = [
      { at: '2026-10-14T09:52:00.000Z', heightMm: 4300 },
      { at: '2026-10-25T23:10:00.000Z', heightMm: null },
    ]
    // IANA tz database: Dublin is an hour ahead of UTC until 25 October 2026, 01:00 UTC.
    for (const text of [
      'day;time;height m\n2026-10-14;10:52;4,3\n25.10.2026;23:10',
      'Date, Time, Height\r\n14/10/2026, 10:52, 4.3\r\n25/10/2026, 23:10\r\n',
      '\uFEFF2026-10-14\t10.52\t4.30 m\n2026-10-25\t23:10',
      '2026-10-14 10:52 4.3\n\n2026-10-25 23:10',
      '2026-10-14T10:52:00+01:00;4.3\n2026-10-25T23:10:00Z',
    ])
      expect(readTides(text, 'Europe/Dublin')).toEqual({ waters: wanted, faults: [] })
  })
  it('keeps good lines and names the bad', () => {
    const { waters, faults } = readTides(
      '2026-10-14;10:52\n2026-02-30;10:52\n2026-10-15;25:10\n2026-10-15;11:40;high',
      'UTC',
    )
    expect(waters).toHaveLength(1)
    expect(faults.map(({ line }) => line)).toEqual([2, 3, 4])
  })
})
