import type { Fact, Sentence } from '../../model/report'
import s from './report.module.css'

/** Sentences of a report run on as a text; strong words are the ones that a reader in a hurry takes away. */
export function Said({
  list,
  className,
  names,
}: {
  list: readonly Sentence[] | undefined
  className?: string
  /** What stands behind a statement, by id, as a reader knows it; without it statements lead nowhere. */
  names?: ReadonlyMap<string, string>
}) {
  if (!list?.length) return null
  return (
    <p className={className}>
      {list.map((sentence, i) => (
        <span key={i}>
          {i > 0 && ' '}
          {sentence.runs.map((run, j) => (run.strong ? <b key={j}>{run.text}</b> : run.text))}
          {sentence.see?.map(
            (id) =>
              names?.has(id) && (
                <span key={id} className="small">
                  {' '}
                  (<a href={`#${id}`}>{names.get(id)}</a>)
                </span>
              ),
          )}
        </span>
      ))}
    </p>
  )
}

/** Lines of a name and what is so. */
export function Facts({ list }: { list: readonly Fact[] | undefined }) {
  return (
    <dl className={s.facts}>
      {list?.map(({ name, is }) => (
        <div key={name} style={{ display: 'contents' }}>
          <dt>{name}</dt>
          <dd>{is}</dd>
        </div>
      ))}
    </dl>
  )
}
