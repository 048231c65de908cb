import { useId } from 'react'
import { Mark } from '../../figure/marks'
import { nameOf, type Spot } from '../../model/history'
import type { Statement } from '../../model/statements'
import s from './resurvey.module.css'

interface SaysProps {
  list: readonly Statement[]
  spots: readonly Spot[]
  /** The sentence whose evidence lies open. */
  open: string | null
  onOpen: (code: string | null) => void
  onPlace: (spot: Spot) => void
}

/** Sentences first; the proof one step away. What cannot be said has the same size as what can. */
export function Says({ list, ...rest }: SaysProps) {
  return (
    <section id="says" aria-labelledby="says-head">
      <h2 id="says-head">What may be said</h2>
      <ol className={s.says}>
        {list.map((statement) => (
          <Sentence key={statement.code} statement={statement} {...rest} />
        ))}
      </ol>
    </section>
  )
}

function Sentence({ statement, spots, open, onOpen, onPlace }: { statement: Statement } & Omit<SaysProps, 'list'>) {
  const id = useId()
  const { code, mark, runs, proof, slots, figures } = statement
  const shown = open === code
  return (
    <li>
      <Mark kind={mark} />
      <div>
        <p>{runs.map((run, i) => (i % 2 ? <b key={i}>{run}</b> : run))}</p>
        {slots.length + figures.length > 0 ? (
          <button
            type="button"
            className="quiet note"
            aria-expanded={shown}
            aria-controls={shown ? id : undefined}
            onClick={() => onOpen(shown ? null : code)}
          >
            {proof}
          </button>
        ) : (
          <p className="small note">{proof}</p>
        )}
        {shown && (
          <div className={s.evidence} id={id}>
            {figures.length > 0 && (
              <dl>
                {figures.map(({ name, value }) => (
                  <div key={name}>
                    <dt>{name}</dt>
                    <dd>{value}</dd>
                  </div>
                ))}
              </dl>
            )}
            {slots.length > 0 && (
              <p>
                Ringed on the hull:{' '}
                {slots.map((slot) => {
                  const spot = spots[slot]
                  return (
                    spot && (
                      <button key={slot} type="button" className="quiet" onClick={() => onPlace(spot)}>
                        {nameOf(spot)}
                      </button>
                    )
                  )
                })}
              </p>
            )}
          </div>
        )}
      </div>
    </li>
  )
}
