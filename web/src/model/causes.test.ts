import { describe, expect, it } from 'vitest'
import { type Entry, lay, placesSaid, workTime } from './causes'

const entry = (state: Entry['state']): Entry => ({ state, for: [], against: [] })

describe('a ledger laid out', () => {
  it('keeps the rank within each part', () => {
    const likely = entry('likely')
    const points = entry('points')
    const live = entry('live')
    const excluded = entry('excluded')
    expect(lay([likely, points, live, excluded])).toEqual({
      pointed: [likely, points],
      idle: [live],
      excluded: [excluded],
    })
  })
})

describe('places in words', () => {
  const axis = { labels: ['12/2', '12/3', '13/2'], sides: ['port', 'port', 'starboard'] }
  it('says each side once', () => expect(placesSaid([1, 2, 3], axis)).toBe('port 12/2, 12/3, starboard 13/2'))
  it('counts where there are many', () => expect(placesSaid([1, 2, 3], axis, 2)).toBe('3 places'))
  it('says nothing of the hull at large', () => expect(placesSaid([], axis)).toBe(''))
})

describe('a time of work', () => {
  it.each([
    [5, '5 min'],
    [60, '1 h'],
    [90, '1 h 30 min'],
  ])('%i minutes are %s', (minutes, said) => expect(workTime(minutes)).toBe(said))
})
