import { expect, test } from 'vitest'
import { blankPaper, dayOfPaper } from './OldDate'

test.each([
  ['month', '5/2019', '2019-05-01'],
  ['month', '12.1998', '1998-12-01'],
  ['month', '2019-05', '2019-05-01'],
  ['month', '13/2019', null],
  ['month', '2019', null],
  ['year', '1998', '1998-01-01'],
  ['year', '98', null],
  ['year', 'spring', null],
] as const)('a date known to the %s, %s', (known, typed, want) => {
  expect(dayOfPaper({ ...blankPaper, known, typed })).toBe(want)
})
test('a day stands for itself', () => {
  expect(dayOfPaper({ ...blankPaper, known: 'day', day: '2019-05-17' })).toBe('2019-05-17')
  expect(dayOfPaper({ ...blankPaper, known: 'day' })).toBeNull()
})
