import s from './instruments.module.css'

/** Sentences of the vocabulary: what cannot be said has the size of what can; cautions stand in italics. */
export function Said({ says }: { says: readonly { claim: string; text: string }[] }) {
  if (says.length === 0) return null
  return (
    <ul className={`plain-list ${s.says}`}>
      {says.map(({ claim, text }) => (
        <li key={text} className={claim === 'caution' ? 'wet note' : undefined}>
          <Symbols text={text} />
        </li>
      ))}
    </ul>
  )
}

/** s_r and s_R with their index below the line, as they are printed everywhere else. */
export function Symbols({ text }: { text: string }) {
  return text.split(/(\bs_[rR]\b)/).map((part, k) =>
    /^s_[rR]$/.test(part) ? (
      <i key={k} className={s.symbol}>
        s<sub>{part.at(-1)}</sub>
      </i>
    ) : (
      part
    ),
  )
}
