import { patternWords } from '../../model/causes'
import { shortDay } from '../../model/dates'
import { countsOf, type DepthStep, patterns } from '../../model/depths'
import { signedUnits } from '../../model/history'
import { Table } from '../../ui/Table'
import s from './causes.module.css'

/** From visit to visit: how many places went which way, and how the chosen one went. */
export function DepthSteps({
  steps,
  chosen,
}: {
  steps: readonly DepthStep[]
  chosen?: { slot: number; name: string } | null
}) {
  const read = patterns.filter((_, k) => steps.some((step) => (countsOf(step)[k] ?? 0) > 0))
  return (
    <Table
      caption="From visit to visit, places by the way they went"
      className={`folds ${s.steps}`}
      columns={[
        {
          head: 'between',
          names: true,
          nowrap: true,
          cell: ({ from, to }) => `${shortDay(from ?? '')} – ${shortDay(to ?? '')}`,
        },
        {
          head: 'the hull at large',
          cell: ({ large }: DepthStep) => <b>{patternWords[large ?? ''] ?? 'cannot be told'}</b>,
        },
        ...read.map(([code, head]) => ({
          head,
          num: true,
          cell: (step: DepthStep) => step.patterns.filter((pattern) => pattern === code).length,
        })),
        ...(chosen ? [{ head: chosen.name, cell: (step: DepthStep) => <Went step={step} slot={chosen.slot} /> }] : []),
      ]}
      rows={[...steps].reverse()}
      id={({ from, to }) => `${from} ${to}`}
    />
  )
}

function Went({ step, slot }: { step: DepthStep; slot: number }) {
  const pattern = step.patterns[slot]
  if (!pattern) return <span className="note">not read with both at both</span>
  const by = (v: number | null | undefined) => (v == null ? 'not told' : signedUnits(v))
  return (
    <>
      deep {by(step.deep[slot])}, shallow {by(step.shallow[slot])}: {patternWords[pattern] ?? pattern}
    </>
  )
}
