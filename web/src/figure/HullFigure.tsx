import { type KeyboardEvent, type MouseEvent, type ReactNode, useId, useMemo, useRef, useState } from 'react'
import { shapeOf } from './assumed'
import { draw } from './draw'
import { Inked, Patterns } from './Inked'
import { type NamedReading, spoken } from './names'
import { nearest, neighbour, type Spot } from './neighbour'
import type { Options } from './options'
import type { Mark, Plate } from './plate'
import { bearings } from './readings'
import type { Shape } from './shape'
import { Sheet } from './sheet'
import { read } from './spec'
import { surface } from './surface'
import { className, px } from './svg'

export interface HullFigureProps extends Omit<Options, 'readings'> {
  /** The element's figure as it comes over the wire; without one an outline is assumed, and said so. */
  spec: unknown
  readings?: readonly NamedReading[]
  /** Makes places choosable: by touch, by click, by arrow keys and Enter. */
  onChoose?: (id: string) => void
  /** Shows only a window of the sheet around a place, px. */
  around?: { place: string; width: number; height: number }
  /** What the readings belong to: when it changes they fade in. */
  pass?: string
  /** Places that a sentence speaks of, ringed while it shows its evidence. */
  lit?: readonly string[]
}

/** The hull as a chart. A table twin must stand beside it. */
export function HullFigure({ spec, onChoose, around, pass, lit, ...options }: HullFigureProps) {
  const known = useMemo(() => read(spec), [spec])
  const shape = useMemo(() => shapeOf(known, options.readings ?? []), [known, options.readings])
  return (
    <>
      <Drawn shape={shape} options={options} onChoose={onChoose} around={around} pass={pass} lit={lit} />
      {!known && (
        <p className="note wet">The outline is assumed: this hull has no dimensions yet. Places stand to scale.</p>
      )}
    </>
  )
}

interface DrawnProps extends Pick<HullFigureProps, 'onChoose' | 'around' | 'pass' | 'lit'> {
  shape: Shape
  options: Omit<Options, 'readings'> & { readings?: readonly NamedReading[] }
}

function Drawn({ shape, options: given, onChoose, around, pass, lit = [] }: DrawnProps) {
  const between = useMemo(
    () => (given.mode === 'map' ? surface(shape, given.readings ?? []) : undefined),
    [shape, given.mode, given.readings],
  )
  const options = useMemo(() => (between ? { ...given, surface: between } : given), [given, between])
  const id = useId().replace(/\W/g, '')
  const svg = useRef<SVGSVGElement>(null)
  const [focused, focus] = useState('')
  const plate = useMemo(() => draw(shape, { ...options, chosen: '' }), [shape, options])
  const sheet = useMemo(() => new Sheet(shape, options), [shape, options])
  const parts = useMemo(() => split(plate, options.readings ?? []), [plate, options.readings])
  const spots = useMemo(() => spotsOf(sheet, parts), [sheet, parts])
  const chosen = options.chosen ?? ''
  const stop = spots.some((s) => s.id === focused)
    ? focused
    : spots.some((s) => s.id === chosen)
      ? chosen
      : spots[0]?.id

  function go(e: KeyboardEvent) {
    if (!onChoose || !stop || e.altKey || e.ctrlKey || e.metaKey) return
    if (e.key === 'Enter' || e.key === ' ') onChoose(stop)
    else {
      const next = neighbour(spots, stop, e.key, plate.height)
      if (!next) return
      svg.current?.querySelector<SVGGElement>(`[data-place="${CSS.escape(next)}"]`)?.focus()
    }
    e.preventDefault()
  }

  /** A finger is broader than a mark: whatever lies within 24 px of it is meant. */
  function touch(e: MouseEvent) {
    const box = svg.current?.getBoundingClientRect()
    if (!onChoose || !box || box.width === 0) return
    const [x0, y0, w] = view(plate, spots, around)
    const scale = w / box.width
    const hit = nearest(spots, x0 + (e.clientX - box.left) * scale, y0 + (e.clientY - box.top) * scale, 24 * scale)
    if (hit) onChoose(hit)
  }

  const [x, y, w, h] = view(plate, spots, around)
  return (
    <svg
      ref={svg}
      className={className(plate)}
      viewBox={`${px(x)} ${px(y)} ${px(w)} ${px(h)}`}
      width={px(w)}
      height={px(h)}
      role={onChoose ? 'listbox' : 'img'}
      aria-label={plate.label || 'The hull unrolled'}
      onKeyDown={onChoose ? go : undefined}
      onClick={onChoose ? touch : undefined}
      onBlur={() => focus('')}
    >
      <Unspoken>
        <Patterns marks={plate.marks} id={id} />
        <Inked marks={parts.base} id={id} />
        <Bearings sheet={sheet} id={focused || chosen} ring={focused !== ''} />
      </Unspoken>
      <g key={`${pass ?? ''} ${plate.mode}`} className="readings">
        {parts.places.map(({ reading, marks }) => (
          <g
            key={reading.id}
            data-place={reading.id}
            {...(onChoose
              ? {
                  role: 'option',
                  tabIndex: reading.id === stop ? 0 : -1,
                  'aria-selected': reading.id === chosen,
                  'aria-label': spoken(reading, plate.mode),
                  onFocus: (e) => focus(e.currentTarget.matches(':focus-visible') ? reading.id : ''),
                }
              : {})}
          >
            <Inked marks={marks} id={id} />
          </g>
        ))}
      </g>
      <Unspoken>
        <Inked marks={parts.over} id={id} />
        {spots.map((at) =>
          lit.includes(at.id) ? (
            <circle key={at.id} cx={at.x} cy={at.y} r={sheet.r + 3} className="choice lit" />
          ) : null,
        )}
      </Unspoken>
    </svg>
  )
}

/** Ink that has nothing to say aloud: the places do, and the table beside the figure. */
function Unspoken({ children }: { children: ReactNode }) {
  // biome-ignore lint/a11y/noAriaHiddenOnFocusable: a group of shapes takes no focus
  return <g aria-hidden="true">{children}</g>
}

/** The cross-bearings of the chosen or focused place; the keyboard's place has a ring of its own. */
function Bearings({ sheet, id, ring }: { sheet: Sheet; id: string; ring: boolean }) {
  const marks = useMemo(() => {
    const own = new Sheet(sheet.h, { ...sheet.o, chosen: id })
    bearings(own)
    return own.marks
  }, [sheet, id])
  const at = marks.find((m) => m.class === 'choice')
  return (
    <>
      <Inked marks={marks} id="" />
      {ring && at && (
        <>
          <circle cx={at.x} cy={at.y} r={(at.r ?? 0) + 4} className="focus-gap" />
          <circle cx={at.x} cy={at.y} r={(at.r ?? 0) + 4} className="focus" />
        </>
      )}
    </>
  )
}

interface Parts {
  base: Mark[]
  places: { reading: NamedReading; marks: Mark[] }[]
  over: Mark[]
}

/** A plate's marks as what lies under the readings, the readings, and what lies over them. */
function split(plate: Plate, readings: readonly NamedReading[]): Parts {
  const marks = new Map<string, Mark[]>(readings.map(({ id }) => [id, []]))
  const base: Mark[] = []
  const over: Mark[] = []
  for (const m of plate.marks) {
    const own = m.place && m.class.split(' ')[0] !== 'pin' ? marks.get(m.place) : undefined
    if (own) own.push(m)
    else (m.place ? over : base).push(m)
  }
  const places = readings.map((reading) => ({ reading, marks: marks.get(reading.id) ?? [] }))
  return { base, places: places.filter((p) => p.marks.length > 0), over }
}

const spotsOf = (sheet: Sheet, { places }: Parts): Spot[] =>
  places.map(({ reading: { id, side, along, down } }) => ({ id, x: sheet.X(along), y: sheet.Y(side, down) }))

type View = [x: number, y: number, w: number, h: number]

function view({ width, height }: Plate, spots: readonly Spot[], around: HullFigureProps['around']): View {
  const at = around && spots.find(({ id }) => id === around.place)
  return at ? [at.x - around.width / 2, at.y - around.height / 2, around.width, around.height] : [0, 0, width, height]
}
