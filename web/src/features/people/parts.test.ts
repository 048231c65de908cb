import { describe, expect, it } from 'vitest'
import { overTime, type Part } from './parts'

const boat = { id: 'v1', name: 'A' }
const part = (id: string, role: string, over: Partial<Part> = {}): Part => ({ id, role, vessel: boat, ...over })
const job = (number: string) => ({ id: number, number })

describe('parts over time', () => {
  it('stand once for each boat, from the first day, with every job', () => {
    expect(
      overTime([
        part('3', 'owner', { from: '2026-10-09', job: job('2026-004') }),
        part('2', 'client', { from: '2026-10-09', job: job('2026-004') }),
        part('1', 'owner', { from: '2017-12-30' }),
        part('0', 'owner', { from: '2023-10-11', job: job('2023-001') }),
      ]),
    ).toEqual([
      { id: '3', role: 'owner', vessel: boat, from: '2017-12-30', jobs: [job('2026-004'), job('2023-001')] },
      { id: '2', role: 'client', vessel: boat, from: '2026-10-09', jobs: [job('2026-004')] },
    ])
  })
  it('that ended stand by themselves, and those of other boats too', () => {
    const rows = overTime([
      part('1', 'owner', { from: '2020-01-01' }),
      part('2', 'owner', { from: '2010-01-01', to: '2012-01-01' }),
      part('3', 'owner', { vessel: { id: 'v2', name: 'B' } }),
    ])
    expect(rows.map(({ id, from }) => [id, from])).toEqual([
      ['1', '2020-01-01'],
      ['2', '2010-01-01'],
      ['3', undefined],
    ])
  })
})
