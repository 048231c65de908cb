import { useMemo } from 'react'
import { useSearch } from '../../app/useSearch'
import { shapeOf } from '../../figure/assumed'
import { HullFigure } from '../../figure/HullFigure'
import { ChangeKey, Mark, ValueKey } from '../../figure/marks'
import type { Pin } from '../../figure/options'
import { easyWidth, Sheet } from '../../figure/sheet'
import { read } from '../../figure/spec'
import { longDay, monthYear, shortDay, visitDay } from '../../model/dates'
import { figureChange, type Gate, tells } from '../../model/gate'
import { comparable, type Edges, edgesOf, edgeWords, figureReadings, isDue, type Spot, said } from '../../model/history'
import { capital } from '../../model/words'
import { Choice } from '../../ui/Choice'
import { useNarrow, useWidth } from '../../ui/useWidth'
import { Beside } from './Beside'
import { Closer } from './Closer'
import { choices, type Show } from './choices'
import { cartouche, contextOf, instrumentOf } from './context'
import type { Pass, ResurveyProps } from './ResurveyView'
import s from './resurvey.module.css'

interface PlateProps extends ResurveyProps {
  now: Pass
  then: Pass | null
  show: Show
  chosen: Spot | null
  edges: Edges | null
  lit: readonly string[]
  pins: readonly Pin[]
}

/** Between two plates, and the width from which a plate is drawn with its frame's figures and names, px. */
const gutter = 16
const leastFull = 560

/** The plate: which pass, in which form, its context in a line, the figure, its legend. */
export function Plate({ now, then, show, chosen, edges, lit, pins, ...props }: PlateProps) {
  const [choice, choose] = useSearch(choices)
  const narrow = useNarrow(700)
  const [ref, width] = useWidth<HTMLDivElement>(860)
  const shown = show === 'then' && then ? then : now
  const { spots, contrastEdges } = props
  const drawn = useMemo(() => {
    // Of places that an open pass has not come to nothing is asked yet.
    const compared = now.state === 'open' ? spots.filter(({ slot }) => !isDue(said(now, slot))) : spots
    const of = (pass: Pass) =>
      figureReadings(spots, pass, edgesOf(pass, contrastEdges), { bare: !comparable(pass.standing) })
    return { now: of(now), before: then ? of(then) : [], change: then?.gate ? figureChange(compared, then.gate) : [] }
  }, [spots, contrastEdges, now, then])
  const shape = useMemo(() => shapeOf(read(props.figure), spots), [props.figure, spots])
  const easy = useMemo(() => easyWidth(shape, drawn.now), [shape, drawn.now])
  const alone = show !== 'both' || !then
  const each = alone ? width : narrow ? width : Math.floor((width - gutter) / 2)
  const small = each < leastFull
  const figured = useMemo(
    () => new Sheet(shape, { width: each, small, readings: drawn.now }).figures,
    [shape, each, small, drawn.now],
  )
  // Worth drawing larger only where the figures are then read that are not, or hardly, now.
  const closer = alone && (!figured || each < 0.85 * easy)
  const close = closer && choice.close
  const day = narrow ? monthYear : shortDay
  const thenName = then && (then.on === now.on ? instrumentOf(then) : day(then.on))
  const common = {
    spec: props.figure,
    layers: props.layers,
    fittings: props.fittings,
    rows: rowTicks(spots),
    stations: stationTicks(spots),
    chosen: chosen?.id ?? '',
    lit,
    onChoose: (id: string) => choose({ place: id }),
  }
  return (
    <>
      <div className={s.bar}>
        <Choice
          label="What the plate shows"
          value={show}
          onChange={(next) => choose({ show: next })}
          options={[
            { value: 'now', name: now.state === 'open' ? 'Today' : day(now.on) },
            ...(then
              ? [
                  { value: 'then' as const, name: thenName },
                  { value: 'both' as const, name: 'Beside' },
                  {
                    value: 'change' as const,
                    name: 'Change',
                    disabled:
                      show !== 'change' && (!comparable(then.standing) || !then.gate || drawn.change.length === 0),
                  },
                ]
              : []),
            { value: 'map', name: 'Map', disabled: edges === null },
          ]}
        />
        <p className="small">{context(show, then, shown)}</p>
        {closer && (
          <button type="button" className="quiet" aria-pressed={close} onClick={() => choose({ close: !close })}>
            {close ? 'the whole hull' : 'closer'}
          </button>
        )}
        <button
          type="button"
          className="quiet"
          aria-pressed={choice.table}
          onClick={() => choose({ table: !choice.table })}
        >
          {choice.table ? 'without the table' : 'as a table'}
        </button>
      </div>
      <div className={s.plate} ref={ref}>
        {show === 'both' && then ? (
          <Beside
            common={common}
            width={each}
            small={small}
            pair={[then, now]}
            readings={(pass) => (pass === now ? drawn.now : drawn.before)}
          />
        ) : (
          <Closer on={close} chosen={common.chosen}>
            <HullFigure
              {...common}
              small={small && !close}
              width={close ? easy : width}
              mode={show === 'change' ? 'change' : show === 'map' ? 'map' : 'today'}
              readings={show === 'change' ? drawn.change : shown === now ? drawn.now : drawn.before}
              {...(show === 'change' ? {} : { pins })}
              {...(show === 'map' && edges ? { edges } : {})}
              title={show === 'change' ? 'Change' : visitDay(shown.on, shown, longDay)}
              under={
                show === 'change' && then?.gate
                  ? `since ${longDay(earlierOf(now, then, then.gate).on)}`
                  : show === 'map'
                    ? 'between the readings'
                    : cartouche(shown)
              }
              label={label(show, now, then, shown)}
              pass={shown.id}
            />
          </Closer>
        )}
      </div>
      <Legend show={show} shown={shown} edges={edges} small={!figured && !close} pins={pins} />
    </>
  )
}

function Legend({
  show,
  shown,
  edges,
  small,
  pins,
}: {
  show: Show
  shown: Pass
  edges: Edges | null
  small: boolean
  pins: readonly Pin[]
}) {
  if (show === 'change') return <ChangeKey />
  if (edges && comparable(shown.standing))
    return (
      <ValueKey words={edgeWords(edges)} small={small} map={show === 'map'}>
        {show !== 'both' && <PinKey pins={pins} />}
      </ValueKey>
    )
  return (
    <p className="key">
      <b>Bare figures:</b>{' '}
      {comparable(shown.standing)
        ? shown.baseline.reasons.map(({ text }) => text).join('; ') || 'this pass has no dry baseline yet'
        : `${shown.standing}: ${shown.standingReason || 'its context did not survive'}`}
    </p>
  )
}

/** Only of what stands on the plate. */
function PinKey({ pins }: { pins: readonly Pin[] }) {
  const words = { finding: 'finding', window: 'window', photo: 'photograph' } as const
  return (Object.keys(words) as (keyof typeof words)[])
    .filter((kind) => pins.some((pin) => pin.kind === kind))
    .map((kind) => (
      <span key={kind}>
        <Mark kind={kind} />
        {words[kind]}
      </span>
    ))
}

/** The plan's stations as ticks along her, each at the first of its places; none where places have no stations. */
function stationTicks(spots: readonly Spot[]) {
  const stations = new Map<number, number>()
  for (const { station, along } of spots) if (station > 0 && !stations.has(station)) stations.set(station, along)
  return [...stations].sort(([a], [b]) => a - b).map(([station, at]) => ({ word: String(station), at }))
}

/** The plan's rows as ticks down the skin: the first place of each row gives its distance. */
function rowTicks(spots: readonly Spot[]) {
  const rows = new Map<number, number>()
  for (const { row, down } of spots) if (!rows.has(row)) rows.set(row, down)
  return [...rows].sort(([a], [b]) => a - b).map(([row, at]) => ({ word: row === 0 ? 'row 0' : String(row), at }))
}

function context(show: Show, then: Pass | null, shown: Pass) {
  if (show === 'change' && then?.gate) return <Basis gate={then.gate} />
  if (show === 'map')
    return 'Drawn between the readings. Hatched where they say no more than their mean does, and about places not read'
  if (show === 'both' && then)
    return comparable(then.standing)
      ? 'On one scale, each above its own dry baseline'
      : `Side by side, not subtracted: ${then.standingReason || then.standing}`
  return contextOf(shown)
}

/** How the two were compared and the least change that could be shown; or why nothing can be told, and the way out. */
function Basis({ gate }: { gate: Gate }) {
  const basis = gate.statements.find(({ code }) => code === 'change-basis')
  if (basis && tells(gate)) return basis.runs.join('')
  const why = gate.untold[0]
  return (
    <>
      <b>Cannot tell.</b> {why ? capital(`${why.text} ${why.todo}`) : 'No place was read like enough at both visits.'}
    </>
  )
}

const earlierOf = (now: Pass, then: Pass, { earlier }: Gate) => (earlier === now.id ? now : then)

function label(show: Show, now: Pass, then: Pass | null, shown: Pass): string {
  if (show === 'change' && then)
    return `How far ${visitDay(now.on, now, longDay)} stands from ${visitDay(then.on, then, longDay)} at each place; the table below says the same`
  return `Hull with the readings of ${visitDay(shown.on, shown, longDay)}; the table says the same`
}
