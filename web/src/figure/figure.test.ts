import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type Dims, fromDims } from './defaults'
import { draw } from './draw'
import type { Options } from './options'
import type { Line, Mark, Plate } from './plate'
import { Shape } from './shape'
import { silhouette } from './silhouette'
import { problems, read, type Spec } from './spec'
import { toSVG } from './svg'

/** The worked plates that domain/figure in Go is held to. */
const folder = new URL('../../../testdata/figure/', import.meta.url)
const worked = readdirSync(folder).filter((f) => f.startsWith('plate-'))
const load = <T>(file: string): T => JSON.parse(readFileSync(new URL(file, folder), 'utf8'))

/** Coordinates agree to a twentieth of a pixel. */
const near = (a = 0, b = 0) => Math.abs(a - b) <= 0.05

function differ(a: Mark, b: Mark): string {
  for (const key of ['kind', 'class', 'place', 'text', 'anchor', 'fill', 'closed'] as const)
    if ((a[key] || '') !== (b[key] || '')) return `${key} ${a[key]}, want ${b[key]}`
  for (const key of ['x', 'y', 'r', 'w', 'h', 'size'] as const)
    if (!near(a[key], b[key])) return `${key} ${a[key]}, want ${b[key]}`
  const [m, n] = [a.lines ?? [], b.lines ?? []]
  if (m.length !== n.length) return `${m.length} lines, want ${n.length}`
  for (const [i, l] of m.entries()) {
    const k = n[i] as Line
    if (l.length !== k.length) return `${l.length} points, want ${k.length}`
    for (const [j, q] of l.entries()) if (!near(q[0], k[j]?.[0]) || !near(q[1], k[j]?.[1])) return `${q}, want ${k[j]}`
  }
  return ''
}

function same(got: Plate, want: Plate) {
  expect(near(got.width, want.width) && near(got.height, want.height), 'size of the sheet').toBe(true)
  expect([got.mode, got.small ?? false, got.label]).toEqual([want.mode, want.small ?? false, want.label])
  expect(got.marks.length).toBe(want.marks.length)
  const wrong = got.marks.flatMap((m, i) => {
    const why = differ(m, want.marks[i] as Mark)
    return why ? [`mark ${i} (${m.class}): ${why}`] : []
  })
  expect(wrong.slice(0, 5)).toEqual([])
}

describe('drawn as in Go, point against point', () => {
  it('has plates to compare', () => expect(worked.length).toBeGreaterThan(9))
  it.each(worked)('%s', (file) => {
    const { spec, options, plate } = load<{ spec: Spec; options: Options; plate: Plate }>(file)
    expect(problems(spec)).toEqual([])
    same(draw(new Shape(spec), options), plate)
  })

  type Outline = { kind: string; dims: Dims; spec: Spec; half: number; top: number; points: number[][]; side: Plate }
  it.each(load<Outline[]>('outlines.json'))('$kind from four numbers', (want) => {
    const { spec } = fromDims(want.kind, want.dims)
    expect(spec).toEqual(want.spec)
    const h = new Shape(want.spec)
    expect(h.half).toBeCloseTo(want.half, 9)
    expect(h.top).toBeCloseTo(want.top, 9)
    for (const [x = 0, ...rest] of want.points)
      expect([h.root(x), h.girth(x), h.depth(x), h.sheer(x)].map((v) => v.toFixed(7))).toEqual(
        rest.map((v) => v.toFixed(7)),
      )
    same(silhouette(h, 106), want.side)
  })
})

describe('a spec', () => {
  it('says in the same words as Go what is wrong', () => {
    const { spec } = fromDims('finKeelSloop', { loa: 10.55, beam: 3.5, draught: 1.75 })
    if (!spec) throw new Error('no spec')
    expect(problems({ ...spec, beam: 99 })).toEqual([{ field: 'beam', text: 'is 99; give 0.3 to 8.6' }])
    expect(problems({ ...spec, chine: [0.9, 0.3] })[0]?.text).toBe('stands beside chine: give one of the two')
    expect(problems({ ...spec, lwl: Number.NaN })).toEqual([{ field: 'lwl', text: 'is not a number' }])
  })
  it('is read from what comes over the wire, or refused whole', () => {
    for (const bad of [null, undefined, 'hull', 7, {}, { lwl: 8 }, { lwl: 8, aft: 0, fore: 1, beam: 3, body: 0.5 }])
      expect(read(bad)).toBeNull()
  })
  it('refuses unlikely numbers and names them', () => {
    expect(fromDims('finKeelSloop', { loa: 1055, beam: 3.5, draught: 1.75 }).problems).toEqual([
      { field: 'loa', text: 'is 1055; give 2 to 50' },
    ])
    expect(fromDims('submarine', { loa: 10, beam: 3, draught: 1 }).problems[0]?.field).toBe('kind')
  })
})

it('writes SVG whose places stand in groups and whose words are escaped', () => {
  const { spec } = fromDims('openBoat', { loa: 5.2, beam: 2, draught: 0.2 })
  if (!spec) throw new Error('no spec')
  const reading = { id: 'P1/1', side: 'port', along: 1, down: 0.1, value: '<5', step: 2 } as const
  const text = toSVG(draw(new Shape(spec), { width: 400, readings: [reading], label: 'a "hull" & more' }), 'p1')
  expect(text).toContain('<g data-place="P1/1"><circle')
  expect(text).toContain('>&lt;5</text></g>')
  expect(text).toContain('aria-label="a &#34;hull&#34; &amp; more"')
  expect(text).not.toMatch(/NaN|undefined/)
})
