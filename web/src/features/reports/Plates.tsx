import type { ReactNode } from 'react'
import { Link } from 'react-router'
import { HullFigure } from '../../figure/HullFigure'
import { ChangeKey, Mark, ValueKey } from '../../figure/marks'
import type { Pin } from '../../figure/options'
import { hullOf, platePins, plateReadings, type ReportData, type ReportPlate } from '../../model/report'
import { Table } from '../../ui/Table'
import { useNarrow, useWidth } from '../../ui/useWidth'
import s from './report.module.css'
import { Said } from './Said'

/** One drawing of the hull, its key, and the table that says the same. */
export function Plate({ report, plate, trace }: { report: ReportData; plate: ReportPlate; trace: boolean }) {
  const [ref, width] = useWidth<HTMLDivElement>(1072)
  const narrow = useNarrow(700)
  const pass = report.passes?.find(({ id }) => id === plate.pass) ?? report.passes?.[0]
  const hull = hullOf(report, plate)
  const change = plate.mode === 'change'
  const pins = platePins(report, plate)
  const key =
    plate.mode === 'places' ? (
      <PlacesKey pins={pins} />
    ) : change ? (
      <ChangeKey />
    ) : pass?.edges?.length ? (
      <ValueKey words={pass.edges} small={narrow} />
    ) : null
  return (
    <section id={plate.id}>
      <h2>
        Plate {plate.number}. {plate.title}
      </h2>
      <figure className={s.figure}>
        <div ref={ref}>
          <HullFigure
            {...hull}
            width={width}
            small={narrow}
            mode={change ? 'change' : 'today'}
            readings={plateReadings(report, plate)}
            pins={pins}
            title={plate.cartouche[0]}
            under={plate.cartouche[1]}
            label={plate.alt}
          />
        </div>
        <figcaption>
          {key}
          {(plate.note || (plate.mode === 'readings' && pass?.noBaseline)) && (
            <p className="small note">{plate.note || pass?.noBaseline}</p>
          )}
          <Said list={plate.caption} className="small" />
        </figcaption>
      </figure>
      <details className={s.twin}>
        <summary>as a table</summary>
        <Twin report={report} plate={plate} trace={trace} />
      </details>
    </section>
  )
}

function Twin({ report, plate, trace }: { report: ReportData; plate: ReportPlate; trace: boolean }) {
  const pass = report.passes?.find(({ id }) => id === plate.pass) ?? report.passes?.[0]
  const entry = (place: string) => (trace && pass ? <Link to={`/passes/${pass.id}`}>{place}</Link> : place)
  if (plate.mode === 'places') return <Places report={report} plate={plate} />
  const change = plate.mode === 'change' ? report.changes?.find(({ id }) => id === plate.against) : undefined
  if (change)
    return (
      <Table
        caption={`Table ${plate.number}. Change since ${change.since}`}
        className=""
        columns={[
          { head: 'place', names: true, cell: (p) => entry(p.place) },
          { head: 'then', num: true, cell: (p) => p.then },
          { head: 'now', num: true, cell: (p) => p.now },
          { head: 'by', num: true, cell: (p) => p.by },
          {
            head: 'said',
            cell: (p) => (
              <span className="said">
                <Mark kind={p.said} />
                {
                  { up: 'changed, higher', down: 'changed, lower', none: 'no change shown', untold: 'cannot tell' }[
                    p.said
                  ]
                }
                {p.reason && <span className="note">, {p.reason}</span>}
              </span>
            ),
          },
        ]}
        rows={change.places ?? []}
        id={(p) => p.place}
      />
    )
  return (
    <Table
      caption={`Table ${plate.number}. Readings of ${pass?.on ?? ''}`}
      className=""
      columns={[
        { head: 'place', names: true, cell: (r) => entry(r.place) },
        { head: 'placements', cell: (r) => r.placements?.join(', ') },
        { head: 'read', num: true, cell: (r) => r.value },
        { head: 'above', num: true, cell: (r) => r.contrast },
        {
          head: 'what else',
          cell: (r) =>
            [
              r.dry && 'dry place',
              r.gap && `${r.gap === 'unread' ? 'not reached' : 'void'}${r.why ? `: ${r.why}` : ''}`,
              r.follow && 'follow up inside',
            ]
              .filter(Boolean)
              .join('; '),
        },
      ]}
      rows={pass?.readings ?? []}
      id={(r) => r.place}
    />
  )
}

/** What lies where, each with the way to it. */
function Places({ report, plate }: { report: ReportData; plate: ReportPlate }) {
  const on = new Set(platePins(report, plate).map(({ id }) => id))
  const rows = [
    ...(report.findings ?? []).map((f) => ({ id: f.id, name: `Finding ${f.number}`, what: f.title, where: f.where })),
    ...(report.photos ?? []).map((p) => ({ id: p.id, name: `Photo ${p.number}`, what: p.caption, where: p.place })),
  ].filter(({ id }) => on.has(id))
  return (
    <Table
      caption={`On plate ${plate.number}`}
      className=""
      columns={[
        { head: 'what', names: true, nowrap: true, cell: (r) => <a href={`#${r.id}`}>{r.name}</a> },
        { head: 'as told', cell: (r) => r.what },
        { head: 'where', cell: (r) => r.where },
      ]}
      rows={rows}
      id={(r) => r.id}
    />
  )
}

/** The signs of what lies on the plate, those that do. */
function PlacesKey({ pins }: { pins: readonly Pin[] }) {
  const signs: [there: boolean, sign: ReactNode, word: string][] = [
    [pins.some(({ kind }) => kind === 'finding'), <path key="f" d="M7 1 13 7 7 13 1 7z" fill="none" />, 'finding'],
    [
      pins.some(({ outline }) => (outline?.length ?? 0) > 2),
      <path key="o" d="M1 4 9 1 13 8 4 13z" fill="none" />,
      'how far it reaches, as drawn',
    ],
    [pins.some(({ kind }) => kind === 'photo'), <path key="p" d="M7 2 13 12H1z" fill="currentColor" />, 'photo'],
    [pins.some(({ kind }) => kind === 'window'), <path key="w" d="M2 2h10v10H2z" fill="none" />, 'window'],
  ]
  return (
    <div className="key">
      {signs.map(
        ([there, sign, word]) =>
          there && (
            <span key={word}>
              <svg
                width="14"
                height="14"
                viewBox="0 0 14 14"
                stroke="currentColor"
                strokeWidth="1.5"
                aria-hidden="true"
              >
                {sign}
              </svg>
              {word}
            </span>
          ),
      )}
    </div>
  )
}
