import { Mark } from '../../figure/marks'
import { shortDay } from '../../model/dates'
import { ashoreWords, standingWord } from '../../model/words'
import type { Pass } from './ResurveyView'
import s from './resurvey.module.css'

/** Every pass in order of time. Choosing one sets it beside the one the page is held against. */
export function VisitLog({
  passes,
  now,
  then,
  onThen,
}: {
  passes: readonly Pass[]
  now: Pass
  then: Pass | null
  onThen: (pass: Pass) => void
}) {
  return (
    <ol className={s.visits} style={{ '--n': Math.min(8, passes.length) } as React.CSSProperties}>
      {passes.map((pass) => {
        const current = pass.id === now.id
        const chosen = pass.id === then?.id
        return (
          <li key={pass.id} className={current ? s.now : chosen ? s.then : undefined}>
            <button type="button" aria-pressed={current || chosen} disabled={current} onClick={() => onThen(pass)}>
              <span className={s.date}>{shortDay(pass.on)}</span>
              <span className="said">
                {!current && pass.standing !== 'reference' && <Mark kind={pass.standing} />}
                {current ? (pass.state === 'open' ? 'today' : 'this one') : standingWord[pass.standing]}
              </span>
              <span className={s.line}>{ashoreWords(pass)}</span>
              <span className={s.line}>
                {pass.instrument?.name ?? (pass.instrumentAsWritten || 'instrument not stated')}
              </span>
              <span className={`${s.line} note`}>{pass.hand || 'hand not stated'}</span>
            </button>
          </li>
        )
      })}
    </ol>
  )
}
