import type { ReportBodyFragment } from '../../graphql/gen/graphql'
import { clock, shortDay } from '../../model/dates'
import { plural } from '../../model/words'
import c from './composer.module.css'

type Sent = NonNullable<ReportBodyFragment['sent']>
type Change = Sent['changes'][number]
type Run = Change['runs'][number]

/** What changed in words since the draft was last sent for review: side by side, or one below the other. */
export function Changes({ sent }: { sent: Sent }) {
  return (
    <section className={c.changes}>
      <h3>
        Since it was sent by {sent.byName}, {shortDay(sent.at)}, {clock(sent.at)}
      </h3>
      {sent.changes.length === 0 ? (
        <p className="note">No word has changed.</p>
      ) : (
        <details>
          <summary>{plural(sent.changes.length, 'part')} changed in words</summary>
          <Words changes={sent.changes} was="as it was sent" is="as it stands" />
        </details>
      )}
    </section>
  )
}

/** Each part that changed: the words that went, and those that came. */
export function Words({ changes, was, is }: { changes: readonly Change[]; was: string; is: string }) {
  return changes.map(({ where, title, runs }) => (
    <div key={where} className={c.change}>
      <h4>{title}</h4>
      <div className={c.sides}>
        <div>
          <p className={c.side}>{was}</p>
          <Side runs={runs} without="new" />
        </div>
        <div>
          <p className={c.side}>{is}</p>
          <Side runs={runs} without="gone" />
        </div>
      </div>
    </div>
  ))
}

function Side({ runs, without }: { runs: readonly Run[]; without: 'gone' | 'new' }) {
  const shown = runs.filter(({ kind }) => kind !== without)
  if (shown.length === 0) return <p className="note">nothing</p>
  return (
    <p className={c.runs}>
      {shown.map(({ kind, text }, k) =>
        kind === 'gone' ? (
          <del key={k}>{text}</del>
        ) : kind === 'new' ? (
          <ins key={k}>{text}</ins>
        ) : (
          <span key={k}>{text}</span>
        ),
      )}
    </p>
  )
}
