import { expect, it } from 'vitest'
import { zoneNames } from './zones'

it('lists the zones by name, with the one that stands', () => {
  const names = zoneNames('Etc/GMT+3')
  expect(names).toEqual(expect.arrayContaining(['Europe/Dublin', 'Pacific/Kiritimati', 'Etc/UTC', 'Etc/GMT+3']))
  expect(new Set(names).size).toBe(names.length)
  expect(names).toEqual([...names].sort())
})
