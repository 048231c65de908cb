import { useSearch } from '../../app/useSearch'
import { HullFigure, type HullFigureProps } from '../../figure/HullFigure'
import { Mark, ValueKey } from '../../figure/marks'
import { longDay, shortDay } from '../../model/dates'
import {
  comparable,
  type Edges,
  edgesOf,
  edgeWords,
  type FigureReading,
  figureChange,
  figureReadings,
  type Spot,
} from '../../model/history'
import { surfaced } from '../../model/kinds'
import { ashoreWords, celsius, humidity } from '../../model/words'
import { Choice } from '../../ui/Choice'
import { useNarrow, useWidth } from '../../ui/useWidth'
import { choices } from './choices'
import type { Pass, ResurveyProps } from './ResurveyView'
import s from './resurvey.module.css'

type Show = 'now' | 'then' | 'both' | 'change' | 'map'

/** The plate: which pass, in which form, its context in a line, the figure, its legend. */
export function Plate({
  now,
  then,
  show,
  chosen,
  edges,
  ...props
}: ResurveyProps & { now: Pass; then: Pass | null; show: Show; chosen: Spot | null; edges: Edges | null }) {
  const [choice, choose] = useSearch(choices)
  const narrow = useNarrow(700)
  const [ref, width] = useWidth<HTMLDivElement>(860)
  const differ = then !== null && comparable(then.standing) && edges !== null
  const shown = show === 'then' && then ? then : now
  const common = {
    spec: props.figure,
    layers: props.layers,
    fittings: props.fittings,
    rows: rowTicks(props.spots),
    small: narrow,
    chosen: chosen?.id ?? '',
    onChoose: (id: string) => choose({ place: id }),
  }
  const readings = (pass: Pass) =>
    figureReadings(props.spots, pass, edgesOf(pass, props.contrastEdges), {
      bare: !comparable(pass.standing),
    })
  return (
    <>
      <div className={s.bar}>
        <Choice
          label="What the plate shows"
          value={show}
          onChange={(next) => choose({ show: next })}
          options={[
            { value: 'now', name: now.state === 'open' ? 'Today' : shortDay(now.on) },
            ...(then
              ? [
                  { value: 'then' as const, name: shortDay(then.on) },
                  { value: 'both' as const, name: 'Both' },
                  { value: 'change' as const, name: 'Apart', disabled: !differ },
                ]
              : []),
            { value: 'map', name: 'Map', disabled: edges === null },
          ]}
        />
        <p className="small">{context(show, then, shown)}</p>
        <button
          type="button"
          className="quiet push"
          aria-pressed={choice.table}
          onClick={() => choose({ table: !choice.table })}
        >
          {choice.table ? 'without the table' : 'as a table'}
        </button>
      </div>
      <div className={s.plate} ref={ref}>
        {show === 'both' && then ? (
          <div className={s.pair}>
            {[then, now].map((pass) => (
              <figure key={pass.id}>
                <Drawn
                  {...common}
                  width={narrow ? width : (width - 16) / 2}
                  small
                  mode="today"
                  readings={readings(pass)}
                  label={`Readings of ${longDay(pass.on)}`}
                />
                <figcaption>
                  <b>{longDay(pass.on)}</b> <span className="wet">{cartouche(pass)}</span>
                  {!comparable(pass.standing) && <span className="note"> · shown, not compared</span>}
                </figcaption>
              </figure>
            ))}
          </div>
        ) : (
          <Drawn
            {...common}
            width={width}
            mode={show === 'change' ? 'change' : show === 'map' ? 'map' : 'today'}
            readings={show === 'change' && then ? figureChange(props.spots, now, then) : readings(shown)}
            {...(show === 'map' && edges ? { edges } : {})}
            title={show === 'change' ? 'Apart' : longDay(shown.on)}
            under={
              show === 'change' && then
                ? `since ${longDay(then.on)}`
                : show === 'map'
                  ? 'between the readings'
                  : cartouche(shown)
            }
            label={label(show, now, then, shown)}
          />
        )}
      </div>
      {show === 'change' ? (
        <ApartKey />
      ) : edges && comparable(shown.standing) ? (
        <ValueKey words={edgeWords(edges)} small={narrow || show === 'both'} map={show === 'map'} />
      ) : (
        <p className="key">
          <b>Bare figures:</b>{' '}
          {comparable(shown.standing)
            ? shown.baseline.reasons.map(({ text }) => text).join('; ') || 'this pass has no dry baseline yet'
            : `${shown.standing}: ${shown.standingReason || 'its context did not survive'}`}
        </p>
      )}
    </>
  )
}

function Drawn(props: HullFigureProps & { readings: FigureReading[] }) {
  return <HullFigure {...props} />
}

const cartouche = (pass: Pass) =>
  `${pass.instrument?.name ?? (pass.instrumentAsWritten || 'instrument not stated')}, ${ashoreWords(pass)}`

/** Differences without a verdict: neither a house nor a ruled sum stands on this plate. */
function ApartKey() {
  return (
    <div className="key">
      <b>Apart, scale units</b>
      <span>
        <Mark kind="untold" />
        by so much; whether it is a change cannot be told
      </span>
      <span>
        <b>?</b> not read, void or at the scale’s end in one of the two
      </span>
    </div>
  )
}

/** The plan's rows as ticks down the skin: the first place of each row gives its distance. */
function rowTicks(spots: readonly Spot[]) {
  const rows = new Map<number, number>()
  for (const { row, down } of spots) if (!rows.has(row)) rows.set(row, down)
  return [...rows].sort(([a], [b]) => a - b).map(([row, at]) => ({ word: row === 0 ? 'row 0' : String(row), at }))
}

function context(show: Show, then: Pass | null, shown: Pass) {
  if (show === 'change')
    return (
      <>
        Each above its own dry baseline. How far apart, place by place; <b>whether it is a change cannot be told</b>{' '}
        before the practice’s own repeats are measured
      </>
    )
  if (show === 'map') return 'Drawn between the readings; hatched where no reading is near'
  if (show === 'both' && then)
    return comparable(then.standing)
      ? 'On one scale, each above its own dry baseline'
      : `Side by side, not subtracted: ${then.standingReason || then.standing}`
  const said = [
    shown.scale && `scale ${shown.scale.lowTenths / 10} to ${shown.scale.highTenths / 10}`,
    shown.face,
    [shown.surface && `underbody ${surfaced(shown.surface)}`, shown.drySurface && `topsides ${shown.drySurface}`]
      .filter(Boolean)
      .join(', '),
    [
      shown.airDecidegrees != null && celsius(shown.airDecidegrees),
      shown.humidityPermille != null && humidity(shown.humidityPermille),
    ]
      .filter(Boolean)
      .join(', '),
  ].filter(Boolean)
  return said.length ? said.join(' · ') : 'Its context did not survive: shown, never computed with'
}

function label(show: Show, now: Pass, then: Pass | null, shown: Pass): string {
  if (show === 'change' && then)
    return `How far ${longDay(now.on)} stands from ${longDay(then.on)} at each place; the table below says the same`
  return `Hull with the readings of ${longDay(shown.on)}; the table says the same`
}
