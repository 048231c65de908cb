import { useState } from 'react'
import { Link, useParams } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed, NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { read } from '../../graphql/gen'
import {
  EditEngagementDocument,
  type EnquiryBodyFragment,
  EnquiryBodyFragmentDoc,
  EnquiryPageDocument,
  type EnquiryPageQuery,
} from '../../graphql/gen/graphql'
import { longDay, shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { capital } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { Notice } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Book } from './Book'
import { EditEnquiry } from './EditEnquiry'
import s from './engagements.module.css'
import { NewBoat, NewClient } from './NewParts'
import { Offer } from './Offer'
import { Quote } from './Quote'
import { Ties } from './Ties'
import { boatOf, jobTabs, solvedAt } from './words'

/** An enquiry with all that is told of it. */
export type Enquiry = EnquiryBodyFragment

/** From a call to a booking: what is missing at the top, each with where it is solved. */
export default function EnquiryPage() {
  const { id = '' } = useParams()
  const [{ data, error }, again] = useQuery({ query: EnquiryPageDocument, variables: { id } })
  if (data && !data.engagement) return <NotFound />
  const e = data?.engagement ? read(EnquiryBodyFragmentDoc, data.engagement) : null
  const name = e ? (e.client?.name ?? e.askedBy) : 'Enquiry'
  return (
    <>
      <Running title={name} page={`Enquiry of ${name}`} tabsLabel="Jobs and enquiries" tabs={jobTabs}>
        {e && `${e.kind || 'kind of survey not agreed'} · ${boatOf(e)} · asked ${shortDay(e.askedOn)}`}
      </Running>
      <main id="main" className="two">
        <Answer data={e} error={error} again={again}>
          {(e) => (
            <>
              <div>
                <Stands e={e} />
                <Ties e={e} found={data?.conflictCheck ?? []} />
                <Quote key={e.version} e={e} />
                <Offer e={e} terms={data?.terms ?? []} zone={data?.viewer.practice.timeZone ?? 'UTC'} />
              </div>
              <aside>
                <Asks e={e} again={() => again({ requestPolicy: 'network-only' })} />
              </aside>
              <Invented show={data?.viewer.practice.invented} />
            </>
          )}
        </Answer>
      </main>
    </>
  )
}

/** What keeps it from being booked, in words; or the booking itself. */
function Stands({ e }: { e: Enquiry }) {
  if (e.job)
    return (
      <section className={s.stands}>
        <p className="lead">
          Booked as{' '}
          <Link to={`/jobs/${e.job}`}>
            <b>job {e.jobNumber}</b>
          </Link>
          .
        </p>
      </section>
    )
  if (e.stage === 'declined' || e.stage === 'closed')
    return (
      <section className={s.stands}>
        <Notice>{e.stage === 'declined' ? 'Not taken on.' : 'Closed: nothing came of it.'}</Notice>
      </section>
    )
  return (
    <section className={s.stands}>
      <h2>{e.missing.length ? 'Stands between this and a booking' : 'Nothing stands against booking it'}</h2>
      {e.missing.length ? (
        <ol className={s.missing}>
          {e.missing.map(({ code, text }) => (
            <li key={code}>
              <a href={solvedAt[code] ?? '#main'}>{text}</a>
            </li>
          ))}
        </ol>
      ) : (
        <Allowed to="book">
          <Book e={e} />
        </Allowed>
      )}
    </section>
  )
}

function Asks({ e, again }: { e: Enquiry; again: () => void }) {
  const open = !e.job && e.stage !== 'declined' && e.stage !== 'closed'
  const facts: [string, string | null | undefined][] = [
    ['asked', `${longDay(e.askedOn)}${e.askedBy ? `, by ${e.askedBy}` : ''}`],
    ['to reach', e.contact],
    ['client', e.client?.name ?? 'not yet one of the practice’s people'],
    ['for', e.forWhom],
    ['boat', boatOf(e)],
    ['why', e.askedBecause],
    ['kind', e.kind || 'not agreed yet'],
    ['scope', e.scope || 'not agreed yet'],
  ]
  return (
    <section id="asks">
      <h2>What is asked</h2>
      <dl className="facts">
        {facts
          .filter(([, is]) => is)
          .map(([name, is]) => (
            <div key={name} style={{ display: 'contents' }}>
              <dt>{name}</dt>
              <dd>{name === 'boat' && e.vessel ? <Link to={`/vessels/${e.vessel}/brief`}>{is}</Link> : is}</dd>
            </div>
          ))}
      </dl>
      {open && (
        <Allowed to="book">
          <div className={s.aside}>
            {!e.client && <NewClient e={e} />}
            {!e.vessel && <NewBoat e={e} />}
            <EditEnquiry e={e} />
            <Close e={e} again={again} />
          </div>
        </Allowed>
      )}
    </section>
  )
}

/** Nothing came of it: put away, and kept. */
function Close({ e, again }: { e: Enquiry; again: () => void }) {
  const [sure, setSure] = useState(false)
  const [{ fetching, error }, edit] = useMutation(EditEngagementDocument)
  if (!sure)
    return (
      <button type="button" className="quiet" onClick={() => setSure(true)}>
        Nothing comes of it
      </button>
    )
  return (
    <div>
      {error && <Failed error={error} />}
      <p className="small">{capital(e.askedBy || 'The enquiry')} stays in the book, under “All”.</p>
      <div className="buttons">
        <button
          type="button"
          className="plain"
          disabled={fetching}
          onClick={async () => {
            const { data } = await edit({
              input: { mutation: newId('mut'), id: e.id, version: e.version, stage: 'closed' },
            })
            if (data) again()
          }}
        >
          Close it
        </button>
        <button type="button" className="plain" onClick={() => setSure(false)}>
          Keep it open
        </button>
      </div>
    </div>
  )
}

export type TermsChoice = EnquiryPageQuery['terms'][number]
