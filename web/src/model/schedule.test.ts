import { expect, it } from 'vitest'
import { readSchedule, writeSchedule } from './schedule'

const kept = [
  {
    id: 'sca_1',
    name: 'Hull',
    items: [
      { id: 'sci_1', name: 'Topsides' },
      { id: 'sci_2', name: 'Rudder' },
    ],
  },
  { id: 'sca_2', name: 'Rig', items: [] },
]

it('is read as it was written', () => {
  expect(writeSchedule(kept)).toBe('Hull\n- Topsides\n- Rudder\n\nRig')
  expect(readSchedule(writeSchedule(kept), kept)).toEqual(kept)
})

it('keeps the id of what keeps its words, in any order, and gives another to other words', () => {
  const [rig, hull] = readSchedule('Rig\n- Mast\nHull\n- Rudder\n– Rudder stock', kept)
  expect(rig?.id).toBe('sca_2')
  expect(rig?.items[0]?.id).toMatch(/^sci_/)
  expect(hull?.items.map(({ id }) => id)[0]).toBe('sci_2')
  expect(hull?.items[1]?.id).not.toBe('sci_2')
})

it('takes no item without an area', () => {
  expect(readSchedule('- Mast\n\n', [])).toEqual([])
})
