import { setOut } from '../../model/gate'
import { nameOf, type Spot } from '../../model/history'
import { plural } from '../../model/words'
import { Table } from '../../ui/Table'
import type { Pass } from './ResurveyView'
import s from './resurvey.module.css'
import { Sentences, type SentencesProps } from './Says'

/** What a pass did not look at, in words and in numbers. */
export function Unseen({ pass, ...says }: { pass: Pass } & Omit<SentencesProps, 'list'>) {
  const { notSeen: u } = pass
  const figures: [string, string][] = [
    ['places of the plan', String(u.planned)],
    ['read', String(u.read)],
    ['void', String(u.void)],
    ['not reached', String(u.notReached.reduce((n, { slots }) => n + slots.length, 0))],
  ]
  if (u.spacingAlongMm != null && u.spacingDownMm != null)
    figures.push(['grid', `${u.spacingAlongMm} × ${u.spacingDownMm} mm`])
  if (u.certainMm != null) figures.push(['round flaw it cannot miss', `${u.certainMm} mm`])
  const meets = u.meets.filter(({ chance }) => chance < 0.995)
  const underbody = u.underbodyM2 == null ? '' : ` of ${u.underbodyM2.toFixed(1)} m²`
  if (u.windows > 0) figures.push(['bared', `${plural(u.windows, 'window')}, ${u.windowsM2.toFixed(2)} m²${underbody}`])
  else
    figures.push([
      'bared',
      u.statements.some(({ code }) => code === 'bared-unknown') ? 'not written down' : `none${underbody}`,
    ])
  return (
    <section aria-labelledby="unseen-head">
      <h2 id="unseen-head">What was not seen</h2>
      <Sentences {...says} list={u.statements.map(setOut)} />
      <dl className={s.figures}>
        {figures.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      {meets.length > 0 && (
        <Table
          caption="How often this grid meets a round flaw laid at random"
          className={s.zones}
          rows={meets}
          id={({ flawMm }) => String(flawMm)}
          columns={[
            { head: 'across', names: true, cell: ({ flawMm }) => `${flawMm} mm` },
            { head: 'met, of 100', num: true, cell: ({ chance }) => Math.round(100 * chance) },
          ]}
        />
      )}
      {u.beside && (
        <p className="small">
          {plural(u.blistersSeen, 'blister')} in the windows of this visit, {u.beside.blisters} in{' '}
          {u.beside.areaM2.toFixed(2)} m² at the visit held: p{' '}
          {u.beside.p < 0.01 ? 'below 0.01' : u.beside.p.toFixed(2)} if blisters spread evenly. They cluster, which
          makes it too small.
        </p>
      )}
      {u.notReached.length > 0 && (
        <dl className={s.reasons}>
          {u.notReached.map(({ reason, slots }) => (
            <div key={reason}>
              <dt>{reason || 'no reason noted'}</dt>
              <dd>{names(says.spots, slots)}</dd>
            </div>
          ))}
        </dl>
      )}
    </section>
  )
}

const names = (spots: readonly Spot[], slots: readonly (number | null)[]) =>
  slots
    .flatMap((slot) => {
      const spot = slot === null ? undefined : spots[slot]
      return spot ? [nameOf(spot)] : []
    })
    .join(', ')
