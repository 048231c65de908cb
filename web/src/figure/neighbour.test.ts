import { describe, expect, it } from 'vitest'
import { spoken } from './names'
import { nearest, neighbour, type Spot } from './neighbour'

/** Two rows of three on port, their mirror on starboard, on a sheet 200 px high. */
const grid: Spot[] = ['P', 'S'].flatMap((side) =>
  [1, 2].flatMap((row) =>
    [1, 2, 3].map((station) => ({
      id: `${side}${station}/${row}`,
      x: station * 40,
      y: side === 'P' ? row * 30 : 200 - row * 30,
    })),
  ),
)

describe('an arrow leads to the neighbour on the sheet', () => {
  it.each([
    ['P2/1', 'ArrowRight', 'P3/1'],
    ['P2/1', 'ArrowLeft', 'P1/1'],
    ['P2/1', 'ArrowDown', 'P2/2'],
    ['P2/2', 'ArrowDown', 'S2/2'], // over the keel
    ['P2/1', 'ArrowUp', null],
    ['P3/1', 'ArrowRight', null],
    ['P2/1', 'End', 'P3/1'],
    ['P2/1', 'Home', 'P1/1'],
    ['P1/1', 'Home', null],
    ['P2/1', 'm', 'S2/1'],
    ['S3/2', 'M', 'P3/2'],
    ['P2/1', 'x', null],
    ['gone', 'ArrowLeft', null],
  ])('%s %s', (from, key, want) => expect(neighbour(grid, from, key, 200)).toBe(want))

  it('can be walked to every place and back', () => {
    const seen = new Set(['P1/1'])
    for (const id of seen)
      for (const key of ['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown']) {
        const next = neighbour(grid, id, key, 200)
        if (next) seen.add(next)
      }
    expect(seen.size).toBe(grid.length)
  })
})

it('takes the nearest place within reach of a finger', () => {
  expect(nearest(grid, 85, 35, 24)).toBe('P2/1')
  expect(nearest(grid, 85, 100, 24)).toBeNull()
})

it('says a place aloud', () => {
  const place = { id: 'x', name: 'Port 13/3', side: 'port', along: 6.5, down: 0.75 } as const
  expect(spoken({ ...place, step: 4, value: '35', follow: true }, 'today')).toBe(
    'Port 13/3, 35, step 4 above the dry baseline, follow up inside',
  )
  expect(spoken({ ...place, step: -1, gap: 'unread' }, 'today')).toBe('Port 13/3, not reached')
  expect(spoken({ ...place, step: -1, said: 'up', by: '+14' }, 'change')).toBe('Port 13/3, changed, higher, +14')
  expect(spoken({ ...place, step: -1, said: 'none', by: '−1' }, 'change')).toBe('Port 13/3, no change shown, minus 1')
  expect(spoken({ id: 'y', side: 'starboard', along: 2, down: -0.25, step: 0, value: '12', dry: true }, 'today')).toBe(
    'starboard, 2.00 m forward, 0.25 m up the skin, 12, dry place',
  )
})
