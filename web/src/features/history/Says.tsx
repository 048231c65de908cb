import { Mark } from '../../figure/marks'
import type { Spot } from '../../model/history'
import type { Statement } from '../../model/statements'
import s from './resurvey.module.css'

/** Sentences first; the proof one step away. What cannot be said has the same size as what can. */
export function Says({
  list,
  onShow,
}: {
  list: readonly Statement[]
  spots: readonly Spot[]
  onShow: (slots: number[]) => void
}) {
  return (
    <section id="says">
      <h2>What may be said</h2>
      <ol className={s.says}>
        {list.map((statement, i) => (
          <li key={i}>
            <Mark kind={statement.mark} />
            <div>
              {statement.runs.map((run, j) => (run.strong ? <b key={j}>{run.text}</b> : run.text))}
              <br />
              {statement.slots ? (
                <button type="button" className="quiet note" onClick={() => onShow(statement.slots ?? [])}>
                  {statement.proof}
                </button>
              ) : (
                <span className="small note">{statement.proof}</span>
              )}
            </div>
          </li>
        ))}
      </ol>
    </section>
  )
}
