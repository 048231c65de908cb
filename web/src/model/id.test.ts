import { expect, it } from 'vitest'
import { newId, uuid7 } from './id'

it('makes version 7 ids in order, even within one millisecond', () => {
  const ids = Array.from({ length: 5000 }, () => uuid7(1_760_000_000_000))
  expect(new Set(ids).size).toBe(ids.length)
  expect([...ids].sort()).toEqual(ids)
  for (const id of ids.slice(0, 50))
    expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/)
})

it('keeps order where the clock steps back', () => {
  const first = uuid7(1_770_000_000_000)
  expect(uuid7(1_760_000_000_000) > first).toBe(true)
})

it('names its kind', () => expect(newId('rdg')).toMatch(/^rdg_/))
