import { useId } from 'react'
import { Mark } from '../../figure/marks'
import { nameOf, type Spot } from '../../model/history'
import type { Statement } from '../../model/statements'
import s from './resurvey.module.css'

export interface SentencesProps {
  list: readonly Statement[]
  spots: readonly Spot[]
  /** The sentence whose evidence lies open. */
  open: string | null
  onOpen: (code: string | null) => void
  onPlace: (spot: Spot) => void
}

/** Sentences first; `forYou` says of which of them the client may not be told. The proof one step away. What cannot be said has the same size as what can. */
export function Says({ forYou, ...props }: SentencesProps & { forYou: string }) {
  return (
    <section id="says" aria-labelledby="says-head">
      <h2 id="says-head">What may be said</h2>
      {forYou && <p className={`small ${s.forYou}`}>{forYou}</p>}
      <Sentences {...props} />
    </section>
  )
}

export function Sentences({ list, ...rest }: SentencesProps) {
  return (
    <ol className={s.says}>
      {list.map((statement) => (
        <Sentence key={statement.code} statement={statement} {...rest} />
      ))}
    </ol>
  )
}

function Sentence({ statement, open, onOpen, ...rest }: { statement: Statement } & Omit<SentencesProps, 'list'>) {
  const id = useId()
  const { code, mark, runs, proof, slots, figures, behind = [] } = statement
  const shown = open === code
  return (
    <li>
      <Mark kind={mark} />
      <div>
        <p>{runs.map((run, i) => (i % 2 ? <b key={i}>{run}</b> : run))}</p>
        {slots.length + figures.length + behind.length > 0 ? (
          <button
            type="button"
            className="quiet note words"
            aria-expanded={shown}
            aria-controls={shown ? id : undefined}
            onClick={() => onOpen(shown ? null : code)}
          >
            {proof}
          </button>
        ) : (
          proof && <p className="small note">{proof}</p>
        )}
        {shown && <Evidence id={id} statement={statement} {...rest} />}
      </div>
    </li>
  )
}

/** Places that are still named one by one. */
const named = 24

/** The figures of a sentence in words, and its places, which are ringed on the hull while it lies open. */
function Evidence({
  id,
  statement: { figures, slots, behind = [] },
  spots,
  onPlace,
}: { id: string; statement: Statement } & Pick<SentencesProps, 'spots' | 'onPlace'>) {
  return (
    <div className={s.evidence} id={id}>
      {figures.length > 0 && (
        <dl className={s.figures}>
          {figures.map(({ name, value }) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
        </dl>
      )}
      {behind.map((text) => (
        <p key={text}>{text}</p>
      ))}
      {slots.length > 0 && (
        <p>
          Ringed on the hull:{' '}
          {slots.length > named
            ? `${slots.length} places`
            : slots.map((slot) => {
                const spot = spots[slot]
                return (
                  spot && (
                    <button key={slot} type="button" className="quiet words" onClick={() => onPlace(spot)}>
                      {nameOf(spot)}
                    </button>
                  )
                )
              })}
        </p>
      )}
    </div>
  )
}
