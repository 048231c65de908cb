import { expect, it } from 'vitest'
import { hoursWords } from './words'

it.each([
  [1, '1 hour'],
  [71.4, '71 hours'],
  [72, '3 days'],
  [497, '20 days'],
])('%d hours are said as %s', (hours, words) => {
  expect(hoursWords(hours)).toBe(words)
})
