import { describe, expect, it } from 'vitest'
import {
  at,
  type BlockColumn,
  begin,
  kitCells,
  kitTenths,
  order,
  pasteBlock,
  readBlock,
  readCell,
  redo,
  regroup,
  undo,
  write,
} from './block'

const scale = { name: 'Skerrow deep No. 2', least: 0, most: 1000 }
const column = (group: string, head: string): BlockColumn => ({ key: group + head, group, head, scale })
const kit = [column('a', '1'), column('a', '2'), column('b', '1'), column('b', '2')]

describe('a block of readings', () => {
  it('takes readings off the ends of the scale and names the ends otherwise', () => {
    expect(readCell('35,3', kit[0] as BlockColumn)).toEqual({ empty: false, ok: true, value: 353 })
    expect(readCell(' ', kit[0] as BlockColumn)).toEqual({ empty: true })
    for (const text of ['100', '0', '120', '-3'])
      expect(readCell(text, kit[0] as BlockColumn)).toMatchObject({
        ok: false,
        why: expect.stringMatching(/0\.0 to 100\.0/),
      })
    expect(readCell('3.25', kit[0] as BlockColumn)).toMatchObject({ ok: false })
  })

  it('walks one hand through its spots before the next, or across both instruments spot by spot', () => {
    expect(order(2, kit, false)).toEqual([
      [0, 0],
      [0, 1],
      [1, 0],
      [1, 1],
      [0, 2],
      [0, 3],
      [1, 2],
      [1, 3],
    ])
    expect(order(2, [column('deep', ''), column('shallow', '')], true)).toEqual([
      [0, 0],
      [0, 1],
      [1, 0],
      [1, 1],
    ])
  })

  it('lays a pasted block and counts what falls outside', () => {
    const done = pasteBlock({ [at(0, 0)]: '9' }, [0, 2], '1\t2\t3\r\n4\t\t"5"', 2, 4)
    expect(done).toEqual({ cells: { '0:0': '9', '0:2': '1', '0:3': '2', '1:2': '4' }, put: 3, outside: 2 })
  })

  it('gives a kit hand by hand, spot by spot, and takes it back into its cells', () => {
    const cells = { '0:0': '1', '0:1': '2', '1:0': '3', '0:2': '5', '1:3': '8' }
    const { columns, wrong, filled } = readBlock(cells, 2, kit)
    expect([wrong, filled]).toEqual([[], 5])
    const tenths = kitTenths(columns, 2, 2, 2)
    expect(tenths).toEqual([10, 20, 30, null, 50, null, null, 80])
    const back = kitCells([tenths.slice(0, 4), tenths.slice(4)], 2)
    expect(readBlock(back, 2, kit).columns).toEqual(columns)
    expect(kitCells([null, tenths.slice(4)], 2)).toEqual({ '0:2': '5.0', '1:3': '8.0' })
  })

  it('undoes and does again', () => {
    const one = write(begin({}), { '0:0': '1' })
    const two = write(one, { '0:0': '2' })
    expect(undo(two).now).toEqual({ '0:0': '1' })
    expect(redo(undo(two)).now).toEqual({ '0:0': '2' })
    expect(undo(undo(undo(two))).now).toEqual({})
  })
})

it('leaves each reading with whoever read it when hands and repeats change', () => {
  const cells = { '0:0': '1.0', '0:1': '1.1', '0:2': '2.0', '1:3': '2.1' }
  const both = { hands: ['mem_a', 'mem_b'], repeats: 2 }
  expect(regroup(cells, both, { hands: ['mem_b'], repeats: 2 })).toEqual({ '0:0': '2.0', '1:1': '2.1' })
  expect(regroup(cells, both, { hands: ['mem_a', 'mem_b'], repeats: 3 })).toEqual({
    '0:0': '1.0',
    '0:1': '1.1',
    '0:3': '2.0',
    '1:4': '2.1',
  })
  expect(regroup(cells, both, { hands: ['mem_a', 'mem_b', 'mem_c'], repeats: 2 })).toEqual(cells)
})
