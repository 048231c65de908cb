import { Mark } from '../../figure/marks'
import type { FragmentType } from '../../graphql/gen'
import { read } from '../../graphql/gen'
import { type CheckLineFragment, CheckLineFragmentDoc } from '../../graphql/gen/graphql'
import s from './moves.module.css'

/** What the database would refuse; everything else may be let pass with a reason. */
export const isHard = ({ code }: Pick<CheckLineFragment, 'code'>) => code === 'taken' || code === 'outside'

/** What may be let pass with a reason that nobody gave yet. */
export const owes = (check: Pick<CheckLineFragment, 'code' | 'passed' | 'suggestion'>) =>
  !isHard(check) && !check.passed && !check.suggestion

/** What stands against a visit, each in its sentence, the hard ones first and reversed. */
export function Stands({ checks }: { checks: readonly FragmentType<typeof CheckLineFragmentDoc>[] }) {
  const list = read(CheckLineFragmentDoc, checks)
  if (list.length === 0) return null
  return (
    <ul className={s.stands}>
      {[...list]
        .sort((a, b) => Number(isHard(b)) - Number(isHard(a)))
        .map((check) => (
          <Stand key={check.code + check.text} check={check} />
        ))}
    </ul>
  )
}

export function Stand({ check }: { check: CheckLineFragment }) {
  if (check.suggestion) return <li className={s.thought}>{check.text}</li>
  if (isHard(check))
    return (
      <li className={s.hard}>
        <Mark kind="hard" /> Hard: {check.text} It cannot be saved so.
      </li>
    )
  if (check.passed)
    return (
      <li className={s.passed}>
        <Mark kind="soft" /> Let pass, “{check.passed}”: {check.text}
      </li>
    )
  return (
    <li className={s.soft} title={check.tag}>
      <Mark kind="soft" /> Soft: {check.text}
    </li>
  )
}
