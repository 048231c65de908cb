import { useState } from 'react'
import { Link } from 'react-router'
import { useQuery } from 'urql'
import { useMay } from '../../app/Allowed'
import { Answer } from '../../app/Page'
import { useSearch } from '../../app/useSearch'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import {
  type DoubleEntryFragment,
  DoubleEntryFragmentDoc,
  DoublePairFragmentDoc,
  DoublesPageDocument,
  MergeRowFragmentDoc,
} from '../../graphql/gen/graphql'
import { optional } from '../../model/search'
import { plural } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { Empty, Notice } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { KnownPerson, unnamed } from '../engagements/Known'
import { Beside } from './Beside'
import { Merges } from './Merges'
import s from './people.module.css'

const choices = { first: optional(), second: optional() }

/** Entries that may be one person or firm: found, put side by side, and made one by somebody who knows. */
export default function DoublesPage() {
  const [{ first, second }, choose] = useSearch(choices)
  const viewer = useViewer()
  const may = useMay('writePeople')
  const [said, setSaid] = useState('')
  const [{ data, error }, again] = useQuery({ query: DoublesPageDocument, pause: !may })
  const pairs = (data?.likelyDoubles ?? []).map((pair) => read(DoublePairFragmentDoc, pair))
  const merges = (data?.partyMerges.edges ?? []).map(({ node }) => read(MergeRowFragmentDoc, node))
  const back = (text: string) => {
    setSaid(text)
    choose({ first: null, second: null })
  }
  return (
    <>
      <Running
        title="Entered twice"
        tabsLabel="People"
        tabs={[
          { to: '/people', name: 'People' },
          { to: '/people/doubles', name: 'Entered twice' },
        ]}
      >
        {data && (pairs.length ? `${plural(pairs.length, 'pair')} that may be one` : 'no two entries look like one')}
      </Running>
      <main id="main" className="two">
        {may ? (
          <Answer data={data} error={error} again={again} lines={8}>
            {() => (
              <>
                <section>
                  {said && <Notice>{said}</Notice>}
                  {first && second ? (
                    <Beside key={`${first} ${second}`} first={first} second={second} onDone={back} />
                  ) : (
                    <>
                      <h2>What looks like one</h2>
                      {pairs.length === 0 ? (
                        <Empty title="Nobody stands here twice">
                          <p>
                            Entries with the same e-mail address or telephone number, or with names that are the same or
                            nearly so, are named here. Whether they are one, a person says.
                          </p>
                        </Empty>
                      ) : (
                        <ul className={`plain-list ${s.pairs}`}>
                          {pairs.map((pair) => {
                            const one = read(DoubleEntryFragmentDoc, pair.first)
                            const two = read(DoubleEntryFragmentDoc, pair.second)
                            return (
                              <li key={`${one.id} ${two.id}`}>
                                <p>
                                  <b>{one.name}</b>
                                  <span className="small note"> {reached(one)}</span>
                                </p>
                                <p>
                                  <b>{two.name}</b>
                                  <span className="small note"> {reached(two)}</span>
                                </p>
                                <p className="small">{pair.because.join(' ')}</p>
                                <Link to={`/people/doubles?first=${one.id}&second=${two.id}`} className="plain">
                                  Side by side
                                  <span className="sr">
                                    : {one.name} and {two.name}
                                  </span>
                                </Link>
                              </li>
                            )
                          })}
                        </ul>
                      )}
                      <Others onChosen={(one, two) => choose({ first: one, second: two })} />
                    </>
                  )}
                </section>
                <aside>
                  <Merges rows={merges} />
                </aside>
                <Invented show={viewer?.practice.invented} />
              </>
            )}
          </Answer>
        ) : (
          <Empty title="Not yours to merge">
            <p>Principals, surveyors and the office put entries together.</p>
          </Empty>
        )}
      </main>
    </>
  )
}

/** How somebody is reached, in one line. */
function reached({ kind, isYard, email, phone }: DoubleEntryFragment) {
  return [isYard ? 'yard' : kind, email, phone].filter(Boolean).join(' · ')
}

/** Two entries that no rule finds, known to somebody to be one. */
function Others({ onChosen }: { onChosen: (one: string, two: string) => void }) {
  const [one, setOne] = useState(unnamed)
  const [two, setTwo] = useState(unnamed)
  const ready = one.known && two.known && one.known.id !== two.known.id
  return (
    <section className={s.others}>
      <h2>Two that were not found</h2>
      <div className="fields">
        <KnownPerson label="One entry" value={one} onChange={setOne} placeholder="name or e-mail" />
        <KnownPerson label="The other" value={two} onChange={setTwo} placeholder="name or e-mail" />
      </div>
      <button
        type="button"
        className="plain"
        disabled={!ready}
        onClick={() => one.known && two.known && onChosen(one.known.id, two.known.id)}
      >
        Put them side by side
      </button>
    </section>
  )
}
