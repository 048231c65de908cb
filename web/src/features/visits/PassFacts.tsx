import { Mark } from '../../figure/marks'
import { type FragmentType, read } from '../../graphql/gen'
import { PassHeadFragmentDoc } from '../../graphql/gen/graphql'
import { hoursWords, plural } from '../../model/words'

/** The dry places of the plan that a pass was read after, and why they are not those of the version before. */
interface DryPlan {
  planVersion: number
  dry: readonly unknown[]
  dryChangeReason: string
}

/** "8, of version 3 of the plan. They differ from the version before: the topsides were painted." */
export function drySaid({ planVersion, dry, dryChangeReason }: DryPlan): string {
  const why = dryChangeReason && ` They differ from the version before: ${dryChangeReason.replace(/\.$/, '')}.`
  return `${dry.length}, of version ${planVersion} of the plan.${why}`
}

/** What a pass says of how it was read, and what it does not say. */
export function PassFacts({ pass, plan }: { pass: FragmentType<typeof PassHeadFragmentDoc>; plan?: DryPlan }) {
  const head = read(PassHeadFragmentDoc, pass)
  const facts: [string, string | null][] = [
    ['hand', head.hand?.name ?? head.handAsWritten],
    ['face', head.face],
    ['surface', [head.surface, head.drySurface && `dry places ${head.drySurface}`].filter(Boolean).join(', ')],
    ['washed', head.hoursSinceWash == null ? null : `${hoursWords(head.hoursSinceWash)} before`],
    ['heat off', head.hoursSinceHeatOff == null ? null : `${plural(head.hoursSinceHeatOff, 'hour')} before`],
    ['rain', head.rain],
    ['salt wiped', head.saltWiped == null ? null : head.saltWiped ? 'yes' : 'no'],
    ['zero reset', head.zeroReset == null ? null : head.zeroReset ? 'yes' : 'no'],
    [
      'block check',
      head.blockChecks
        .map((check) => `${check.block} ${(check.valueTenths / 10).toFixed(1)} ${check.moment}`)
        .join(', '),
    ],
    ['dry places', plan ? drySaid(plan) : null],
    [
      'baseline',
      head.baseline.medianFortieths == null
        ? head.baseline.reasons.map(({ text }) => text).join(' ')
        : `${plural(head.baseline.count, 'place')}, median ${(head.baseline.medianFortieths / 40).toFixed(1)}, scatter ${(head.baseline.scatter ?? 0).toFixed(1)} (1.4826 × MAD)`,
    ],
  ]
  return (
    <section>
      <h2>How it is read</h2>
      <dl className="facts">
        {facts
          .filter(([, is]) => is)
          .map(([name, is]) => (
            <div key={name} style={{ display: 'contents' }}>
              <dt>{name}</dt>
              <dd>{is}</dd>
            </div>
          ))}
      </dl>
      {head.missing.map(({ code, text }) => (
        <p key={code} className="small" style={{ padding: '7px 0', display: 'flex', gap: 8 }}>
          <Mark kind="untold" />
          <span>{text}</span>
        </p>
      ))}
    </section>
  )
}
