import { describe, expect, it } from 'vitest'
import { type Field, parseFigures, parseMeasured, typedFrom } from './measured'

const field = (name: string, takes: string, more: Partial<Field> = {}): Field => ({
  name,
  label: name,
  takes,
  unit: 'mm',
  least: 0,
  most: 60,
  choices: [],
  needed: false,
  ...more,
})

describe('figures as they are typed', () => {
  it.each([
    ['4 3,5 6', [4, 3.5, 6]],
    ['4, 3.5, 6', [4, 3.5, 6]],
    ['4;3,5;6 ', [4, 3.5, 6]],
    ['', []],
  ])('%s', (typed, list) => {
    expect(parseFigures(typed)).toEqual({ ok: true, value: list })
  })
  it('names what is none', () => {
    expect(parseFigures('4 few')).toEqual({ ok: false, why: '“few” is not a number' })
  })
})

it('keeps what was written, leaves out what was not, and says of each field what is wrong', () => {
  const fields = [
    field('count', 'whole', { needed: true }),
    field('diametersMm', 'numbers', { least: 0.1 }),
    field('depthMm', 'number'),
    field('smell', 'choice', { choices: ['none', 'vinegar'] }),
  ]
  expect(parseMeasured(fields, { count: '7', diametersMm: '4 3', smell: 'vinegar', depthMm: ' ' })).toEqual({
    measured: { count: 7, diametersMm: [4, 3], smell: 'vinegar' },
    wrong: {},
  })
  expect(parseMeasured(fields, { count: '', diametersMm: '4 0', depthMm: '61' }).wrong).toEqual({
    count: 'This is needed.',
    diametersMm: 'Between 0.1 and 60 mm.',
    depthMm: 'Between 0 and 60 mm.',
  })
  expect(parseMeasured(fields, { count: '2,5' }).wrong).toEqual({ count: 'whole numbers only' })
  expect(typedFrom({ count: 7, diametersMm: [4, 3.5] })).toEqual({ count: '7', diametersMm: '4 3.5' })
})
