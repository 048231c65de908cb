import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { medianOfPlacements } from '../measure/order'
import { parseCell, type Scale, shown } from './cell'
import { parseQuantity, parseTenths, signed, tenths, wholeBetween } from './number'
import { clipboardCells, paste, pastedSaid } from './paste'
import { begin, blank, follow, redo, settled, undo, write } from './sheet'
import { blocks, neighbour, type PlanPlace, walkOrder } from './walk'

const scale: Scale = { instrument: 'Skerrow deep No. 2', least: 0, most: 1000 }

/** Two stations a side, one dry place each, hull ending early on the second. */
const plan: PlanPlace[] = (['starboard', 'port'] as const).flatMap((side) =>
  [2, 1].flatMap((station) =>
    [2, 1, 0]
      .filter((row) => !(station === 2 && row === 2))
      .map((row) => ({
        id: `${side[0]}${station}/${row}`,
        label: `${station}/${row}`,
        side,
        station,
        row,
        along: station * 500,
        down: row * 300 - 150,
        baseline: row === 0,
      })),
  ),
)
const at = (id: string) => plan.find((place) => place.id === id) as PlanPlace

describe('numbers', () => {
  it.each([
    ['35,3', 353],
    ['35.3', 353],
    [' 35 ', 350],
    ['−4,0', -40],
    ['0', 0],
  ])('reads %s', (raw, want) => expect(parseTenths(raw)).toEqual({ ok: true, value: want }))

  it.each(['35.35', '1,000.5', '3 5', 'abc', '', '35.', '1e3'])('refuses %s', (raw) =>
    expect(parseTenths(raw).ok).toBe(false),
  )

  it('reads back what it prints', () => {
    fc.assert(
      fc.property(fc.integer({ min: -99_999, max: 99_999 }), (value) => {
        expect(parseTenths(tenths(value))).toEqual({ ok: true, value })
        expect(parseTenths(tenths(value).replace('.', ','))).toEqual({ ok: true, value })
      }),
    )
  })

  it('gives a difference its sign', () => expect([233, -4, 0].map(signed)).toEqual(['+23.3', '−0.4', '±0.0']))

  it('reads quantities with either separator', () => {
    expect(wholeBetween('−200', -10_000, 10_000)).toEqual({ ok: true, value: -200 })
    for (const none of ['', ' ', '4,5', '1e3', '−20000']) expect(wholeBetween(none, -10_000, 10_000).ok).toBe(false)
    expect(parseQuantity('10,55')).toEqual({ ok: true, value: 10.55 })
    expect(parseQuantity('-0.5')).toEqual({ ok: true, value: -0.5 })
    expect(parseQuantity('10.5555').ok).toBe(false)
  })

  it('takes the middle of any order, whole for even counts', () => {
    expect(medianOfPlacements([351, 358, 353])).toBe(706)
    expect(medianOfPlacements([350, 353])).toBe(703)
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 1000 }), { minLength: 1, maxLength: 5 }), (values) => {
        const twice = medianOfPlacements(values)
        const below = values.filter((v) => 2 * v <= twice).length
        const above = values.filter((v) => 2 * v >= twice).length
        expect(Math.min(below, above) * 2).toBeGreaterThanOrEqual(values.length)
      }),
    )
  })
})

describe('a cell', () => {
  const read = (text: string) => parseCell(text, scale)

  it('holds one to five placements and shows their median', () => {
    expect(read('35,3 35,8 35,1')).toEqual({ kind: 'read', placements: [353, 358, 351], limit: null, follow: false })
    expect(shown(read('35,3 35,8 35,1'))).toBe('35.3')
    expect(shown(read('35.3/35.8'))).toBe('35.55')
    expect(read('1 2 3 4 5 6')).toMatchObject({ kind: 'wrong' })
  })

  it('keeps the ends of the scale as evidence', () => {
    expect(read('<5')).toMatchObject({ kind: 'read', limit: { flag: 'below', at: 50 } })
    expect(read('> 100')).toMatchObject({ kind: 'read', limit: { flag: 'above', at: 1000 } })
    expect(shown(read('15-20'))).toBe('15–20')
    expect(shown(read('15–20'))).toBe('15–20')
    expect(read('20-15')).toMatchObject({ kind: 'wrong' })
  })

  it('refuses numbers beyond the scale and names its ends', () => {
    const cell = read('101')
    expect(cell.kind === 'wrong' && cell.why).toContain('Skerrow deep No. 2, 0.0 to 100.0')
    expect(cell.kind === 'wrong' && cell.why).toContain('>100.0')
    expect(read('>101')).toMatchObject({ kind: 'wrong' })
  })

  it('marks what to follow up inside', () => {
    expect(read('34.2 !')).toMatchObject({ kind: 'read', placements: [342], follow: true })
    expect(read('!')).toMatchObject({ kind: 'wrong' })
  })

  it('asks why a place was not reached', () => {
    expect(read('n prop pad')).toEqual({ kind: 'unread', reason: 'prop pad' })
    expect(read('x: pads rocked')).toEqual({ kind: 'void', reason: 'pads rocked' })
    expect(read('n')).toMatchObject({ kind: 'wrong' })
  })

  it('never throws, whatever is typed', () => {
    fc.assert(fc.property(fc.string(), (text) => void expect(read(text).kind).toBeTypeOf('string')))
  })
})

describe('the walk', () => {
  it('reads the dry places first, then a station complete before the next', () => {
    expect(
      walkOrder(plan)
        .map(({ id }) => id)
        .join(' '),
    ).toBe('p1/0 p2/0 s1/0 s2/0 p1/1 p1/2 p2/1 s1/1 s1/2 s2/1')
  })

  it('leaves out nothing and depends on no order', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(plan, { minLength: plan.length }), (mixed) => {
        expect(walkOrder(mixed)).toEqual(walkOrder(plan))
      }),
    )
  })

  it('steps over places the hull does not have', () => {
    const all = blocks(plan)
    expect(all.map(({ side, rows, lines }) => [side, rows.length, lines.length])).toEqual([
      ['port', 3, 2],
      ['starboard', 3, 2],
    ])
    expect(neighbour(all, at('p1/2'), 'down')).toBeNull()
    expect(neighbour(all, at('p1/1'), 'down')?.id).toBe('p2/1')
    expect(neighbour(all, at('p1/1'), 'right')?.id).toBe('p1/2')
    expect(neighbour(all, at('p1/0'), 'left')).toBeNull()
  })
})

describe('a pasted block', () => {
  const [port] = blocks(plan)
  if (!port) throw new Error('no port side')

  it('keeps good cells, marks bad ones, and says what fell outside', () => {
    const done = paste(port, at('p1/1'), '21,4\t22.0\r\n140\t23\r\n', scale)
    expect(done.entries).toEqual([
      ['p1/1', '21,4'],
      ['p1/2', '22.0'],
      ['p2/1', '140'],
    ])
    expect(done.good).toBe(2)
    expect(done.wrong.map(({ place }) => place)).toEqual(['p2/1'])
    expect(done.outside).toEqual([{ line: 2, column: 2, text: '23' }])
    expect(pastedSaid(done)).toContain('2 kept; 1 marked wrong')
  })

  it('leaves what stands under an empty cell', () => {
    expect(paste(port, at('p1/0'), '\t21', scale).entries).toEqual([['p1/1', '21']])
  })

  it('reads quoted cells as a spreadsheet writes them', () => {
    expect(clipboardCells('"a\tb"\t"say ""so"""\n1')).toEqual([['a\tb', 'say "so"'], ['1']])
  })

  it('is one step: one undo for one paste', () => {
    const before = begin({ 'p1/1': '20' })
    const { entries } = paste(port, at('p1/1'), '21\t22\n23', scale)
    const after = write(before, 'paste', entries)
    expect(after.done).toHaveLength(1)
    expect(undo(after).cells).toEqual({ 'p1/1': '20' })
    expect(redo(undo(after)).cells).toEqual(after.cells)
  })
})

describe('what the service holds', () => {
  const typed = write(write(begin({ a: '1', b: '2' }), 'typed', [['b', '9']]), 'typed', [['c', '3,0']])

  it('is followed where nothing was typed, and left alone where something was', () => {
    const now = follow(typed, { a: '1', b: '2' }, { a: '1.5', b: '2.5', d: '4' }, new Map())
    expect(now.cells).toEqual({ a: '1.5', b: '9', c: '3,0', d: '4' })
  })

  it('is shown for what was sent, however it was typed', () => {
    const after = { a: '1', b: '2', c: '3.0' }
    expect(follow(typed, { a: '1', b: '2' }, after, new Map([['c', '3,0']])).cells.c).toBe('3.0')
  })

  it('takes nothing away that was typed while the answer was awaited', () => {
    const on = write(typed, 'typed', [['c', '36']])
    const after = { a: '1', b: '2', c: '3.0' }
    expect(follow(on, { a: '1', b: '2' }, after, new Map([['c', '3,0']])).cells.c).toBe('36')
  })

  it('is not undone once received', () => {
    expect(undo(settled(typed)).cells).toEqual(typed.cells)
  })
})

describe('undo', () => {
  it('takes any run of acts back to where it began', () => {
    const act = fc.array(fc.tuple(fc.constantFrom('a', 'b', 'c'), fc.constantFrom('', '1', '2')))
    fc.assert(
      fc.property(fc.array(act), (acts) => {
        let draft = blank
        for (const entries of acts) draft = write(draft, 'act', entries)
        const end = draft.cells
        const steps = draft.done.length
        for (let i = 0; i < steps; i++) draft = undo(draft)
        expect(draft.cells).toEqual({})
        for (let i = 0; i < steps; i++) draft = redo(draft)
        expect(draft.cells).toEqual(end)
      }),
    )
  })
})
