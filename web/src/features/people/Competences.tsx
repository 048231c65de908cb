import { useState } from 'react'
import { useQuery } from 'urql'
import { Allowed, useMay } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { read } from '../../graphql/gen'
import { type CompetenceRowFragment, CompetenceRowFragmentDoc, CompetencesDocument } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { Table } from '../../ui/Table'
import { JudgeCompetence } from './JudgeCompetence'
import s from './people.module.css'

/** What each member is competent for: a judgement with a day and a name. Nobody is scored. */
export function Competences() {
  const mayRead = useMay('readDiary')
  const [{ data, error }, again] = useQuery({ query: CompetencesDocument, pause: !mayRead })
  const [judging, setJudging] = useState<string | null>(null)
  if (!mayRead) return null
  const rows = data ? read(CompetenceRowFragmentDoc, data.competences) : []
  const open = rows.find(({ member }) => member.id === judging)
  return (
    <section id="competences">
      <h2>What each is competent for</h2>
      <p className="small note measure">
        Each kind of job with the day on which somebody judged so. Whoever plans a visit is told; a job outside of it
        needs a reason. Where nothing is said, nothing is asked.
      </p>
      {error && <Failed error={error} />}
      {data && (
        <Table
          caption="What each is competent for"
          hideCaption
          className={`folds ${s.competences}`}
          columns={[
            { head: 'who', names: true, nowrap: true, cell: ({ member }) => member.name },
            { head: 'does', cell: (row) => <Does row={row} /> },
            { head: 'judged before', short: 'before', cell: (row) => <Before row={row} /> },
            {
              head: '',
              cell: ({ member }) => (
                <Allowed to="manageMembers">
                  <button type="button" className="quiet" onClick={() => setJudging(member.id)}>
                    Judge<span className="sr">: {member.name}</span>
                  </button>
                </Allowed>
              ),
            },
          ]}
          rows={rows}
          id={({ member }) => member.id}
        />
      )}
      {open && (
        <JudgeCompetence
          of={open}
          members={rows.map(({ member }) => member)}
          onClose={() => setJudging(null)}
          onDone={() => again({ requestPolicy: 'network-only' })}
        />
      )}
    </section>
  )
}

function Does({ row }: { row: CompetenceRowFragment }) {
  if (row.kinds.length === 0) return <span className="note">nobody has said</span>
  return (
    <ul className="plain-list">
      {row.kinds.map((each) => (
        <li key={each.kind}>
          {each.kind}
          <span className="small note">
            {' '}
            {each.judgedOn
              ? `judged ${shortDay(each.judgedOn)}${each.judgedBy && ` by ${each.judgedBy}`}`
              : 'from before days were written down'}
            {each.grounds && `: ${each.grounds}`}
          </span>
        </li>
      ))}
    </ul>
  )
}

/** Judgements that count no more: taken back since, or judged anew. */
function Before({ row }: { row: CompetenceRowFragment }) {
  const seen = new Set<string>()
  const older = row.judgements.filter(({ kind, competent }) => {
    const counts = competent && !seen.has(kind)
    seen.add(kind)
    return !counts
  })
  if (older.length === 0) return <span className="small note">–</span>
  return (
    <details className="small">
      <summary>{older.length}</summary>
      <ol className="plain-list">
        {older.map((each) => (
          <li key={each.id}>
            {shortDay(each.judgedOn)}: {each.kind}, {each.competent ? 'competent' : 'not any more'}
            {each.judgedBy && `, ${each.judgedBy}`}
            {each.grounds && `. ${each.grounds}`}
          </li>
        ))}
      </ol>
    </details>
  )
}
