import { useParams } from 'react-router'
import { useQuery } from 'urql'
import { NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { JobBriefDocument, type JobBriefQuery } from '../../graphql/gen/graphql'
import { longDay, shortDay, visitTime } from '../../model/dates'
import { ashoreWords, capital, metres, plural } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { Running } from '../../ui/Running'
import s from './brief.module.css'
import { HowManyVisits } from './HowManyVisits'

type Brief = NonNullable<JobBriefQuery['brief']>

/** The one page before a visit. It prints on one sheet of A4, and is read on a phone on the way. */
export default function BriefPage() {
  const { id = '' } = useParams()
  const [{ data, error }, again] = useQuery({ query: JobBriefDocument, variables: { job: id } })
  if (data && !data.brief) return <NotFound />
  const brief = data?.brief
  return (
    <>
      <Running
        title={brief?.job.vessel.name ?? 'Brief'}
        page={brief ? `${brief.job.vessel.name}, before the visit` : 'Before the visit'}
        tabsLabel="This job"
        tabs={
          brief
            ? [
                { to: `/jobs/${brief.job.id}`, name: `Job ${brief.job.number}` },
                { to: `/jobs/${brief.job.id}/brief`, name: 'Brief' },
                { to: `/vessels/${brief.job.vessel.id}`, name: 'Resurvey' },
              ]
            : []
        }
      >
        {brief && head(brief)}
      </Running>
      <main id="main" className={s.page}>
        <Answer data={brief} error={error} again={again} lines={12}>
          {(brief) => <Sheet brief={brief} />}
        </Answer>
        <div className="wide">
          <Invented show={data?.viewer.practice.invented} />
        </div>
      </main>
    </>
  )
}

function head({ job: { vessel, kind, client, number } }: Brief): string {
  return [
    vessel.kind,
    vessel.loaMm && metres(vessel.loaMm),
    vessel.mouldedYear && `moulded ${vessel.mouldedYear}`,
    `job ${number}, ${kind}${client ? `, for ${client.name}` : ''}`,
  ]
    .filter(Boolean)
    .join(' · ')
}

function Sheet({ brief }: { brief: Brief }) {
  return (
    <>
      <div className={s.column}>
        <section>
          <h2>Look at again</h2>
          <Points
            list={brief.again}
            none="Nothing is open, and no place stands out in what may be told to this client."
          />
        </section>
        <section>
          <h2>Known of this boat</h2>
          <Points list={brief.weak} none="Nothing is known that may be told to this client." />
        </section>
      </div>
      <div className={s.column}>
        <Visit brief={brief} />
        <Lines head="As last time" list={brief.like} />
        <Plan plan={brief.plan} />
        <Leave brief={brief} />
        <Lines head="What the next reading could show" list={brief.next} />
        <HowManyVisits over={brief.overVisits} />
        <section>
          <h2>Not for this client</h2>
          <p>
            {brief.leftOut.length > 0
              ? `Left out, since their jobs may not be told: ${brief.leftOut.join(', ')}. See them anew before they are printed.`
              : 'Nothing was left out.'}
          </p>
        </section>
      </div>
      <div className={s.cautions}>
        {brief.cautions.map((caution) => (
          <p key={caution}>{caution}</p>
        ))}
      </div>
    </>
  )
}

function Points({ list, none }: { list: Brief['again']; none: string }) {
  if (list.length === 0) return <p className="note">{none}</p>
  return (
    <ul className={s.points}>
      {list.map((point) => (
        <li key={point.what + point.why}>
          <b>{capital(point.what)}</b>
          {point.places.length > 0 && <span> · {places(point.places)}</span>}
          <br />
          <span className="small note">{point.why}</span>
        </li>
      ))}
    </ul>
  )
}

/** Some places by name; of many, how many more. */
function places(names: string[]): string {
  const most = 8
  return names.length > most ? `${names.slice(0, most).join(', ')} and ${names.length - most} more` : names.join(', ')
}

function Visit({ brief: { visit } }: { brief: Brief }) {
  return (
    <section>
      <h2>The visit</h2>
      {visit ? (
        <p>
          <b>
            {capital(visit.kind)}, {visitTime(visit, longDay)}
          </b>
          <br />
          {[
            visit.state === 'planned' ? '' : visit.state,
            visit.yard,
            (visit.daysAshore != null || visit.ashoreBetween) && ashoreWords(visit),
            visit.lead?.name,
          ]
            .filter(Boolean)
            .join(' · ')}
        </p>
      ) : (
        <p className="note">No visit yet.</p>
      )}
    </section>
  )
}

function Lines({ head, list }: { head: string; list: string[] }) {
  return (
    <section>
      <h2>{head}</h2>
      <ul className={s.points}>
        {list.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </section>
  )
}

function Plan({ plan }: { plan: Brief['plan'] }) {
  return (
    <section>
      <h2>Plan of places</h2>
      {plan ? (
        <p>
          Version {plan.planVersion}, {plan.kind}: {plural(plan.places, 'place')}, {plan.dry} of them dry and read first
          {plan.targeted > 0 && `, ${plan.targeted} over something known and kept out of averages`}.
          {plan.note && ` ${plan.note}`}
          {plan.dryChangeReason && ` Dry places changed: ${plan.dryChangeReason}.`}
        </p>
      ) : (
        <p className="note">No plan yet.</p>
      )}
    </section>
  )
}

function Leave({ brief }: { brief: Brief }) {
  return (
    <section>
      <h2>Leave</h2>
      {brief.missing.length > 0 && <p className={s.missing}>Missing: {brief.missing.join(', ')}.</p>}
      <ul className={s.points}>
        {brief.permissions.map((one) => (
          <li key={one.id}>
            {one.what}
            {one.extent && `, ${one.extent}`}: {answered(one)}
          </li>
        ))}
      </ul>
    </section>
  )
}

function answered({ askedOn, givenOn, refusedOn, givenBy }: Brief['permissions'][number]): string {
  if (refusedOn) return `refused ${shortDay(refusedOn)}`
  if (givenOn) return `given ${shortDay(givenOn)}${givenBy ? ` by ${givenBy}` : ''}`
  return askedOn ? `asked ${shortDay(askedOn)}, not answered` : 'not asked'
}
