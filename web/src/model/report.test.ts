import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { asReport, hullOf, plateReadings } from './report'

const content = JSON.parse(
  readFileSync(new URL('../../../testdata/report/tamsel.snapshot.json', import.meta.url), 'utf8'),
)

describe('a report as data', () => {
  const report = asReport(content)
  if (!report) throw new Error('the golden snapshot is a report')

  it('is told from anything else', () => {
    expect(asReport(null)).toBeNull()
    expect(asReport({ issue: {} })).toBeNull()
  })

  it('draws every reading of the pass on the plate of readings', () => {
    const [plate] = report.plates ?? []
    const drawn = plate ? plateReadings(report, plate) : []
    expect(drawn).toHaveLength(report.passes?.[0]?.readings?.length ?? 0)
    expect(drawn.filter(({ gap }) => gap === 'unread')).toHaveLength(4)
    expect(drawn.every(({ step, gap }) => gap || (step >= 0 && step <= 4))).toBe(true)
  })

  it('draws on the plate of change what the report says of each place and nothing of its own', () => {
    const plate = report.plates?.find(({ mode }) => mode === 'change')
    const drawn = plate ? plateReadings(report, plate) : []
    const count = (word: string) => drawn.filter(({ said }) => said === word).length
    expect(['up', 'none', 'untold'].map(count)).toEqual([11, 113, 6])
  })

  it('gives the hull in metres', () => {
    const plate = report.plates?.[0]
    const hull = plate && hullOf(report, plate)
    expect(hull?.rows[0]).toEqual({ word: 'row 0', at: -0.25 })
    expect(hull?.layers[0]?.outline[0]).toEqual([5.62, 0.3])
  })
})
