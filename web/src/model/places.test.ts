import { describe, expect, it } from 'vitest'
import { parsePlaces, placeName } from './places'

const places = {
  ids: ['a', 'b', 'c', 'd'],
  labels: ['13/3', '13/3', '13/4', 'K1'],
  sides: ['port', 'starboard', 'port', 'centre'],
}

describe('places as somebody writes them', () => {
  it.each([
    ['port 13/3', [1]],
    ['Starboard 13/3, port 13/3 13/4', [2, 1, 3]],
    ['s 13/3; p 13/4', [2, 3]],
    ['k1', [4]],
    ['13/4', [3]],
    ['', []],
    ['port 13/3 13/3', [1]],
  ])('%s', (text, ordinals) => {
    expect(parsePlaces(text, places)).toEqual({ ok: true, ordinals })
  })
  it.each([
    ['13/3', /both sides/],
    ['port 99/1', /no place port 99\/1/],
    ['starboard 13/4', /no place/],
    ['everywhere', /no place everywhere/],
  ])('%s is refused', (text, why) => {
    const said = parsePlaces(text, places)
    expect(said.ok ? '' : said.why).toMatch(why)
  })
  it('names a place by its side and label', () => {
    expect(placeName(places, 2)).toBe('starboard 13/3')
    expect(placeName(places, null)).toBe('')
    expect(placeName(places, 9)).toBe('')
  })
})
