import { Mark, type MarkKind, Sure as SureLine } from '../figure/marks'

/** The seven grades, most urgent first, in the trade's words; domain/report Grade is their twin in Go. */
const grades: Record<string, [mark: MarkKind, words: string]> = {
  stop: ['stop', 'Stop and make safe'],
  afloat: ['before', 'Before afloat'],
  ashore: ['ashore', 'While ashore'],
  planned: ['planned', 'Planned work'],
  further: ['further', 'Look further'],
  watch: ['watch', 'Watch'],
  record: ['record', 'For the record'],
}

export const gradeWords = (grade: string) => grades[grade]?.[1] ?? grade

/** How urgent, as a flag with its word always beside it. */
export function Grade({ grade }: { grade: string }) {
  const [mark, words] = grades[grade] ?? (['record', grade] as const)
  return (
    <span className="said">
      <Mark kind={mark} />
      {words}
    </span>
  )
}

/** How sure, apart from how urgent; a word the service does not know is only said. */
export function Sure({ word }: { word: string }) {
  return word === 'seen' || word === 'indicated' || word === 'suspected' ? <SureLine how={word} /> : word
}
