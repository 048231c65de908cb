import { expect, it } from 'vitest'
import { middleOf, noOutline, outlineOf, parseOutline, sayOutline, writeOutline } from './outline'

it('is written and read alike, in metres', () => {
  const outline = outlineOf('port', [
    [4500, 600],
    [5000, 600],
    [5000, -900],
  ])
  expect(writeOutline(outline)).toBe('port 4.5 0.6; 5 0.6; 5 -0.9')
  expect(parseOutline(writeOutline(outline))).toEqual({ ok: true, value: outline })
  expect(parseOutline('port 4,5 0,6; 5 0,6; 5 −0,9')).toEqual({ ok: true, value: outline })
  expect(sayOutline(outline)).toBe('port, 4.5 to 5 m forward, -0.9 to 0.6 m down')
  expect(middleOf(outline)).toEqual([4.75, -0.15])
  expect(parseOutline(' ')).toEqual({ ok: true, value: noOutline })
})

it.each([
  ['4.5 0.6; 5 0.6; 5 0.9', 'Begin with the side'],
  ['port 4.5 0.6; 5 0.6', 'three corners at least'],
  ['port 4.5; 5 0.6; 5 0.9', 'is no corner'],
  ['port 4.5 low; 5 0.6; 5 0.9', 'is no corner'],
])('%s is refused with what to do', (text, why) => {
  const parsed = parseOutline(text)
  expect(parsed.ok ? '' : parsed.why).toContain(why)
})
