import type { VesselAdviceQuery } from '../../graphql/gen/graphql'
import { windowWords } from '../../model/windows'
import { plural } from '../../model/words'
import s from './vessels.module.css'

type Due = NonNullable<VesselAdviceQuery['vessel']>['reinspections'][number]

const over = new Set(['answered', 'declined'])

/** When this hull is to be seen again and why; what was answered already stays folded below. */
export function SeenAgain({ due }: { due: readonly Due[] }) {
  if (due.length === 0) return null
  const ahead = due.filter(({ state }) => !over.has(state))
  const past = due.filter(({ state }) => over.has(state)).toReversed()
  return (
    <section>
      <h2>To be seen again</h2>
      {ahead.length > 0 ? <Windows due={ahead} /> : <p className="note">Nothing waits to be seen again.</p>}
      {past.length > 0 && (
        <details>
          <summary>{plural(past.length, 'window')} answered or declined before</summary>
          <Windows due={past} />
        </details>
      )}
    </section>
  )
}

function Windows({ due }: { due: readonly Due[] }) {
  return (
    <ol className={s.events}>
      {due.map((one) => (
        <li key={one.id}>
          <span className="note">{windowWords(one)}</span>
          <span>
            {one.reason}{' '}
            <span className="note">
              · {one.state}
              {one.stateReason && `: ${one.stateReason}`} · {one.tag}
            </span>
          </span>
        </li>
      ))}
    </ol>
  )
}
