import { useParams } from 'react-router'
import { useQuery } from 'urql'
import { NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { SeenLetterDocument } from '../../graphql/gen/graphql'
import { plural } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { Running } from '../../ui/Running'
import s from './followthrough.module.css'

interface Said {
  runs: { text: string; strong?: boolean }[]
}
interface Content {
  practice: { name: string; contact?: string[] }
  to: string
  reference?: string
  vessel: string
  hullNumber?: string
  on: string
  opening: Said[]
  lines: { grade: string; what: string; first?: string; said: Said[] }[]
  closing: Said[]
  by: string
}

/** A letter as it was written: read here, printed on a sheet of its own. */
export default function LetterPage() {
  const { id = '' } = useParams()
  const [{ data, error }, again] = useQuery({ query: SeenLetterDocument, variables: { id } })
  if (data && !data.seenLetter) return <NotFound />
  const letter = data?.seenLetter
  const content = letter?.content as Content | undefined
  return (
    <>
      <Running
        title={content?.vessel ?? 'Letter'}
        page={content ? `${content.vessel}, letter` : 'Letter'}
        tabsLabel="This boat"
        tabs={
          letter
            ? [
                { to: `/letters/${letter.id}`, name: 'Letter' },
                { to: `/vessels/${letter.vessel}/recommendations`, name: 'Recommendations' },
              ]
            : []
        }
      >
        {letter && `to ${letter.addressedTo}`}
      </Running>
      <main id="main" className={s.letter}>
        <Answer data={content} error={error} again={again} lines={12}>
          {(content) => (
            <>
              <header>
                <p>
                  <b>{content.practice.name}</b>
                  {content.practice.contact?.map((line) => (
                    <span key={line}>{line}</span>
                  ))}
                </p>
                <p>
                  {content.to}
                  {content.reference && <span>Your reference: {content.reference}</span>}
                </p>
                <p>{content.on}</p>
              </header>
              <h2>
                {content.vessel}
                {content.hullNumber && `, hull no. ${content.hullNumber}`}
              </h2>
              <p>{content.opening.map(says)}</p>
              <ol>
                {content.lines.map((line, k) => (
                  <li key={k}>
                    <p>
                      <b>{line.what}</b>{' '}
                      <span className="note">
                        {line.grade}
                        {line.first && `, report ${line.first}`}
                      </span>
                    </p>
                    <p>{line.said.map(says)}</p>
                  </li>
                ))}
              </ol>
              <p className="small">{content.closing.map(says)}</p>
              <p className={s.signed}>{content.by}</p>
              {letter && letter.leftOut > 0 && (
                <p className="small no-print">
                  Left out, not printed here: {plural(letter.leftOut, 'recommendation')} of other jobs, which their
                  terms keep to their own client.
                </p>
              )}
              <div className="buttons no-print">
                <button type="button" className="act" onClick={() => print()}>
                  Print it
                </button>
              </div>
            </>
          )}
        </Answer>
        <Invented show={data?.viewer.practice.invented} />
      </main>
    </>
  )
}

const says = ({ runs }: Said, k: number) => (
  <span key={k}>{runs.map(({ text, strong }, n) => (strong ? <b key={n}>{text}</b> : text))} </span>
)
