import { useState } from 'react'
import { Link } from 'react-router'
import { useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Answer } from '../../app/Page'
import { useViewer } from '../../app/useViewer'
import { InstrumentChecksDocument, InstrumentsPageDocument, type InstrumentsPageQuery } from '../../graphql/gen/graphql'
import { monthYear, yearOf } from '../../model/dates'
import { plural } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { Empty } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { AddInstrument } from './AddInstrument'
import s from './instruments.module.css'

type Instrument = InstrumentsPageQuery['instruments']['edges'][number]['node']

/** What the practice reads with: each instrument’s scales, and how its block checks have stood over the years. */
export default function InstrumentsPage() {
  const viewer = useViewer()
  const [adding, setAdding] = useState(false)
  const [{ data, error }, again] = useQuery({ query: InstrumentsPageDocument })
  const list = data?.instruments.edges.map(({ node }) => node) ?? []
  return (
    <>
      <Running
        title="Instruments"
        right={
          <>
            <Link to="/instruments/half-hour">The half hour</Link>{' '}
            <Allowed to="writeTools">
              <button type="button" className="plain" style={{ marginLeft: 12 }} onClick={() => setAdding(true)}>
                Add an instrument
              </button>
            </Allowed>
          </>
        }
      >
        each number compares first with its own instrument’s
      </Running>
      <main id="main" className="page-body">
        <Answer data={data} error={error} again={again} lines={8}>
          {() =>
            list.length === 0 ? (
              <Empty
                title="No instrument yet"
                ways={
                  <Allowed to="writeTools">
                    <button type="button" className="act" onClick={() => setAdding(true)}>
                      Add an instrument
                    </button>
                  </Allowed>
                }
              >
                <p>
                  Each instrument stands here under its name in full, with its scales and where they end. Its block
                  checks gather as passes are read, and tell whether it drifts.
                </p>
              </Empty>
            ) : (
              <div className={s.list}>
                {list.map((instrument) => (
                  <One key={instrument.id} instrument={instrument} />
                ))}
              </div>
            )
          }
        </Answer>
        <Invented show={viewer?.practice.invented} />
      </main>
      {adding && <AddInstrument onClose={() => setAdding(false)} />}
    </>
  )
}

function One({ instrument }: { instrument: Instrument }) {
  return (
    <article className={s.one}>
      <div>
        <h2>
          <Link to={`/instruments/${instrument.id}`}>{instrument.name}</Link>
        </h2>
        <p className="note">
          {[
            instrument.kind,
            (instrument.sensing === 'deep' || instrument.sensing === 'shallow') && `${instrument.sensing}-sensing`,
            instrument.model && instrument.model !== instrument.name && `model ${instrument.model}`,
            instrument.serial && `serial ${instrument.serial}`,
          ]
            .filter(Boolean)
            .join(' · ')}
        </p>
        <p className="small note">
          {[
            instrument.boughtOn && `since ${monthYear(instrument.boughtOn)}`,
            instrument.zeroReset && 'zero is reset before reading',
            instrument.batteryNote,
            instrument.retiredOn && `retired ${monthYear(instrument.retiredOn)}`,
          ]
            .filter(Boolean)
            .join(' · ')}
        </p>
      </div>
      <ul className={`plain-list ${s.scales}`}>
        {instrument.scales.map((scale) => (
          <li key={scale.id}>
            <b>
              {scale.lowTenths / 10} to {scale.highTenths / 10}
            </b>
            <span className="small note">
              {[
                scale.name !== `${scale.lowTenths / 10} to ${scale.highTenths / 10}` && scale.name,
                scale.mode,
                scale.stepTenths !== 1 && `in steps of ${scale.stepTenths / 10}`,
                scale.timberPercent ? 'percent of timber' : 'no unit',
              ]
                .filter(Boolean)
                .join(' · ')}
            </span>
          </li>
        ))}
      </ul>
      <Checks id={instrument.id} name={instrument.name} />
    </article>
  )
}

/** Block checks over time: one line a block, each point a check. What is seen is drift, or none. */
function Checks({ id, name }: { id: string; name: string }) {
  const [{ data }] = useQuery({ query: InstrumentChecksDocument, variables: { id } })
  if (!data) return <p className="small note">…</p>
  const all = data.node?.__typename === 'Instrument' ? data.node.blockChecks : []
  const checks = all.filter(({ block }) => block !== 'air')
  if (checks.length < 2)
    return (
      <p className="small note">
        {checks.length === 0 ? 'No block check yet.' : 'One block check: two show whether it drifts.'}
      </p>
    )
  const years = checks.map(({ at }) => yearOf(at))
  const from = Math.min(...years)
  const span = Math.max(0.5, Math.max(...years) - from)
  const x = (at: string) => 8 + ((yearOf(at) - from) / span) * 384
  const rows = ['low', 'high'].flatMap((block) => {
    const own = checks.filter((check) => check.block === block)
    if (own.length === 0) return []
    const values = own.map(({ valueTenths }) => valueTenths)
    return [
      {
        block,
        own,
        middle: (Math.min(...values) + Math.max(...values)) / 2,
        least: Math.min(...values),
        most: Math.max(...values),
      },
    ]
  })
  return (
    <figure className={s.checks}>
      <svg viewBox={`0 0 400 ${rows.length * 44 + 14}`} role="img" aria-label={`Block checks of ${name}`}>
        {rows.map(({ block, own, middle }, i) => {
          const y = (value: number) => i * 44 + 22 - Math.max(-18, Math.min(18, (value - middle) * 1.2))
          return (
            <g key={block}>
              <path d={`M0 ${i * 44 + 22}H400`} stroke="var(--line)" strokeWidth=".7" />
              {own.map((check, k) => (
                <circle key={k} cx={x(check.at)} cy={y(check.valueTenths)} r="2.6" fill="var(--ink)" />
              ))}
            </g>
          )
        })}
        <text x="0" y={rows.length * 44 + 11} className={s.tick}>
          {Math.floor(from)}
        </text>
        <text x="400" y={rows.length * 44 + 11} textAnchor="end" className={s.tick}>
          {Math.floor(from + span)}
        </text>
      </svg>
      <figcaption className="small note">
        {rows
          .map(
            ({ block, own, least, most }) =>
              `${block} block ${(least / 10).toFixed(1)} to ${(most / 10).toFixed(1)} over ${plural(own.length, 'check')}`,
          )
          .join('; ')}
      </figcaption>
    </figure>
  )
}
