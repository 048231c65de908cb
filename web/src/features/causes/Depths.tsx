import { read } from '../../graphql/gen'
import { DepthStepFragmentDoc } from '../../graphql/gen/graphql'
import { patternWords } from '../../model/causes'
import { shortDay } from '../../model/dates'
import { signedUnits } from '../../model/history'
import { Table } from '../../ui/Table'
import type { Ledger } from './CausesPage'
import s from './causes.module.css'
import { DepthSteps } from './DepthSteps'

const units = (twentieths: number | null | undefined) => (twentieths == null ? '' : signedUnits(twentieths))

type Row = Ledger['depthTable'][number]

const share = (thousandths: number) => (thousandths / 1000).toFixed(2)

/** Places read deep- and shallow-sensing from visit to visit, and the worked table they are held against. */
export function Depths({ id, ledger }: { id: string; ledger: Ledger }) {
  const { depths, axis } = ledger
  const steps = read(DepthStepFragmentDoc, ledger.depthSteps)
  const last = steps.at(-1)
  const rows = (last?.patterns ?? []).flatMap((pattern, k) =>
    pattern
      ? [{ k, name: `${axis.sides[k]} ${axis.labels[k]}`, pattern, deep: last?.deep[k], shallow: last?.shallow[k] }]
      : [],
  )
  return (
    <section className={s.matter} aria-labelledby={id}>
      <h2 id={id}>Two depths</h2>
      <p className="lead measure">{depths.says.text}</p>
      {steps.length > 0 && <DepthSteps steps={steps} />}
      {last?.from && last.to && rows.length > 0 && (
        <details className={s.pairs}>
          <summary>
            {rows.length} places, {shortDay(last.from)} to {shortDay(last.to)}
          </summary>
          <Table
            caption="Change of contrast by place, each instrument’s own units"
            className="folds pairs"
            columns={[
              { head: 'place', names: true, cell: ({ name }) => name },
              { head: 'deep', num: true, cell: ({ deep }) => units(deep) },
              { head: 'shallow', num: true, cell: ({ shallow }) => units(shallow) },
              { head: 'went', cell: ({ pattern }) => patternWords[pattern] ?? pattern },
            ]}
            rows={rows}
            id={({ k }) => String(k)}
          />
        </details>
      )}
      <div className={s.worked}>
        {(
          [
            ['What instruments of three depths would see of a wall that dries', 'days ashore', ledger.depthTable],
            ['The same wall, rained on for two days after 60', 'days since', ledger.depthTableAfterRain],
          ] as const
        ).map(([caption, days, rows]) => (
          <Table
            key={days}
            caption={caption}
            columns={[
              { head: days, num: true, cell: (row: Row) => row.days },
              { head: 'shallow, 2 mm', num: true, cell: (row: Row) => share(row.shallow) },
              { head: 'middle, 4 mm', num: true, cell: (row: Row) => share(row.middle) },
              { head: 'deep, 8 mm', num: true, cell: (row: Row) => share(row.deep) },
              { head: 'true mean', num: true, cell: (row: Row) => share(row.mean) },
            ]}
            rows={rows}
            id={(row: Row) => String(row.days)}
          />
        ))}
        <p className="small note measure">
          Share of the starting signal: 10 mm skin, inner face sealed, wet through at the start, air of 20 °C that holds
          no water, D = 1 × 10⁻¹² m²/s. Computed from those assumptions; no hull is like this. The gap between two
          depths widens for about a month and narrows after four, so that a wide gap by itself proves nothing. Rain
          lifts the shallow figure most, and about a week takes it back.
        </p>
      </div>
    </section>
  )
}
