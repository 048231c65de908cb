import { useState } from 'react'
import { Link, useParams } from 'react-router'
import { useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { read } from '../../graphql/gen'
import {
  ConditionLineFragmentDoc,
  PassHeadFragmentDoc,
  VisitPageDocument,
  type VisitPageQuery,
} from '../../graphql/gen/graphql'
import { longDay, timeIn, visitTime } from '../../model/dates'
import { ashoreWords, celsius, humidity } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { Empty, Notice } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Photos } from '../findings/Photos'
import { Seen } from '../findings/Seen'
import { AddBlockCheck } from './AddBlockCheck'
import { AddCondition } from './AddCondition'
import { Against } from './Against'
import { Cautions } from './Cautions'
import { EditPass } from './EditPass'
import { InviteByMail } from './InviteByMail'
import { Marks } from './Marks'
import { OpenPass } from './OpenPass'
import { PassFacts } from './PassFacts'
import s from './visit.module.css'

type Visit = NonNullable<VisitPageQuery['visit']>

/** One attendance: what the day was like, the passes made, what was seen. */
export default function VisitPage() {
  const { id = '' } = useParams()
  const [{ data, error }, again] = useQuery({ query: VisitPageDocument, variables: { id } })
  if (data && !data.visit) return <NotFound />
  const visit = data?.visit
  return (
    <>
      <Running
        title={visit ? visit.vessel.name : 'Visit'}
        page={visit ? `${visit.vessel.name}, ${visit.kind}` : 'Visit'}
        tabsLabel="This visit"
        tabs={
          visit
            ? [
                { to: `/visits/${visit.id}`, name: 'Visit' },
                { to: `/vessels/${visit.vessel.id}`, name: 'Resurvey' },
                { to: `/jobs/${visit.job.id}`, name: `Job ${visit.job.number}` },
              ]
            : []
        }
      >
        {visit && (
          <>
            {visit.kind}, {visitTime(visit, longDay)}
            {visit.spell?.yard && `, ${visit.spell.yard.name}`}
            {visit.daysAshore != null || visit.ashoreBetween
              ? ` · ${visit.daysAshore === 0 ? 'in the slings' : ashoreWords(visit)}`
              : visit.daysAshoreAsWritten && ` · ashore “${visit.daysAshoreAsWritten}”`}
            {visit.lead && <span className="wide-only"> · {visit.lead.name}</span>}
          </>
        )}
      </Running>
      <main id="main" className="two">
        <Answer data={visit} error={error} again={again} lines={12}>
          {(visit) => (
            <>
              <div>
                {visit.note && (
                  <div style={{ marginTop: 16 }}>
                    <Notice>{visit.note}</Notice>
                  </div>
                )}
                {visit.state === 'planned' && (
                  <Allowed to="readDiary">
                    <Against visit={visit.id} />
                  </Allowed>
                )}
                <Passes visit={visit} />
                <Seen visit={visit} />
                <Photos visit={visit} again={() => again({ requestPolicy: 'network-only' })} />
              </div>
              <aside>
                <Conditions visit={visit} />
                <Marks visit={visit} />
                <Allowed to="book">
                  <InviteByMail visit={visit} again={() => again({ requestPolicy: 'network-only' })} />
                </Allowed>
                <Cautions spell={visit.spell} />
              </aside>
              <Invented show={data?.viewer.practice.invented} />
            </>
          )}
        </Answer>
      </main>
    </>
  )
}

function Passes({ visit }: { visit: Visit }) {
  const [opening, setOpening] = useState(false)
  return (
    <section className={s.passes}>
      <header>
        <h2>Passes</h2>
        {visit.passes.length > 0 && (
          <Allowed to="writeVisit">
            <button type="button" className="plain push" onClick={() => setOpening(true)}>
              Open another pass
            </button>
          </Allowed>
        )}
      </header>
      {visit.passes.length === 0 && (
        <Empty
          title="No pass yet"
          ways={
            <Allowed to="writeVisit">
              <button type="button" className="act" onClick={() => setOpening(true)}>
                Open a pass
              </button>
            </Allowed>
          }
        >
          <p>
            A pass is one going-over by one hand with one instrument and scale: the unit inside which numbers compare.
            Check the block first, then read the dry places.
          </p>
        </Empty>
      )}
      {visit.passes.map((pass) => {
        const head = read(PassHeadFragmentDoc, pass)
        const open = head.state === 'open'
        return (
          <article key={head.id} className={s.pass}>
            <div className={s.what}>
              <h3>{head.instrument?.name ?? (head.instrumentAsWritten || 'Instrument not stated')}</h3>
              <p className="note">
                {[
                  head.scale && `scale ${head.scale.name}${head.scale.mode ? `, ${head.scale.mode}` : ''}`,
                  `begun ${timeIn(head.beganAt, visit.timeZone)}`,
                  head.closedAt ? `closed ${timeIn(head.closedAt, visit.timeZone)}` : head.state,
                ]
                  .filter(Boolean)
                  .join(' · ')}
              </p>
              <div className="buttons" style={{ marginTop: 12 }}>
                <Link className={open ? 'act' : 'plain'} to={`/passes/${head.id}`}>
                  {open ? 'Enter readings' : 'See the readings'}
                </Link>
                {open && (
                  <Link className="plain" to={`/passes/${head.id}/sheet`}>
                    Blank sheet
                  </Link>
                )}
                {open && <AddBlockCheck pass={pass} />}
                {open && (
                  <Allowed to="writeVisit">
                    <EditPass pass={head} />
                  </Allowed>
                )}
              </div>
            </div>
            <div>
              <PassFacts pass={pass} />
            </div>
          </article>
        )
      })}
      <OpenPass visit={visit} open={opening} onClose={() => setOpening(false)} />
    </section>
  )
}

function Conditions({ visit }: { visit: Visit }) {
  const list = read(ConditionLineFragmentDoc, visit.conditions)
  return (
    <section>
      <h2>Conditions</h2>
      {list.length === 0 && (
        <p className="small note" style={{ borderTop: '1px solid', paddingTop: 7 }}>
          None written down yet. At the least air temperature and humidity; better the skin too, sunny and shaded side
          apart.
        </p>
      )}
      {list.map((c) => (
        <article key={c.id}>
          <h3 className={s.time}>{timeIn(c.at, visit.timeZone)}</h3>
          <dl className="facts">
            {(
              [
                [
                  'air',
                  [
                    c.airDecidegrees != null && celsius(c.airDecidegrees),
                    c.humidityPermille != null && humidity(c.humidityPermille),
                  ]
                    .filter(Boolean)
                    .join(', '),
                ],
                ['dew point', c.dewPointDecidegrees != null && celsius(c.dewPointDecidegrees)],
                [
                  'skin',
                  [
                    c.skinPortDecidegrees != null && `port ${celsius(c.skinPortDecidegrees)}`,
                    c.skinStarboardDecidegrees != null && `starboard ${celsius(c.skinStarboardDecidegrees)}`,
                  ]
                    .filter(Boolean)
                    .join(', '),
                ],
                ['inside', c.insideHumidityPermille != null && humidity(c.insideHumidityPermille)],
                ['sun', c.sun],
                ['wind', c.wind],
                ['rain, 72 h', c.rainLast72h],
                ['tanks', c.tankLevel],
                ['bilge', c.bilgeLevel],
                ['cover', c.indoors == null ? '' : c.indoors ? 'indoors' : 'in the open'],
                ['heating', c.heating],
                ['note', c.note],
              ] as [string, string | false | null][]
            )
              .filter(([, is]) => is)
              .map(([name, is]) => (
                <div key={name} style={{ display: 'contents' }}>
                  <dt>{name}</dt>
                  <dd>{is}</dd>
                </div>
              ))}
          </dl>
          {c.advice.map(({ code, text }) => (
            <div key={code} style={{ marginTop: 8 }}>
              <Notice bad>{text}</Notice>
            </div>
          ))}
        </article>
      ))}
      <div style={{ marginTop: 12 }}>
        <Allowed to="writeVisit">
          <AddCondition visit={visit.id} again={list.length > 0} />
        </Allowed>
      </div>
    </section>
  )
}
