import { describe, expect, it } from 'vitest'
import { outlineOf } from './lies'

const typed = { along: '1,25', alongTo: '2.5', down: '-0.1', downTo: '0.9' }

describe('where something lies', () => {
  it('is the whole hull, four corners, two ends or a point, in millimetres', () => {
    expect(outlineOf('whole', { along: '', alongTo: '', down: '', downTo: '' })).toEqual({ ok: true, value: [] })
    expect(outlineOf('area', typed)).toEqual({
      ok: true,
      value: [
        [1250, -100],
        [2500, -100],
        [2500, 900],
        [1250, 900],
      ],
    })
    expect(outlineOf('line', typed)).toEqual({
      ok: true,
      value: [
        [1250, -100],
        [1250, 900],
      ],
    })
    expect(outlineOf('point', typed)).toEqual({ ok: true, value: [[1250, -100]] })
  })

  it('asks for what is missing and refuses an area without extent', () => {
    expect(outlineOf('point', { ...typed, down: '' }).ok).toBe(false)
    expect(outlineOf('area', { ...typed, alongTo: '1.25' }).ok).toBe(false)
    expect(outlineOf('line', { ...typed, alongTo: 'not asked for' }).ok).toBe(true)
  })
})
