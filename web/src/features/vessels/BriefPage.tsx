import { Link, useParams } from 'react-router'
import { useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { useViewer } from '../../app/useViewer'
import { HullFigure } from '../../figure/HullFigure'
import { Mark } from '../../figure/marks'
import { VesselBriefDocument, type VesselBriefQuery } from '../../graphql/gen/graphql'
import { dayIn, monthYear, shortDay } from '../../model/dates'
import { metres, plural } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { useNarrow, useWidth } from '../../ui/useWidth'
import { whatLies } from '../history/whatLies'
import { LayOut } from './LayOut'
import { OpenJob } from './OpenJob'
import { VesselRunning } from './VesselRunning'
import s from './vessels.module.css'

type Vessel = NonNullable<VesselBriefQuery['vessel']>

/** What is known of a hull before anybody goes to her: identity, dimensions, what lies behind, her history. */
export default function BriefPage() {
  const { id = '' } = useParams()
  const viewer = useViewer()
  const [{ data, error }, again] = useQuery({ query: VesselBriefDocument, variables: { id } })
  if (data && !data.vessel) return <NotFound />
  return (
    <>
      {data?.vessel && <VesselRunning vessel={data.vessel} leaf="brief" />}
      <main id="main" className={s.brief}>
        <Answer data={data?.vessel} error={error} again={again} lines={12}>
          {(vessel) => (
            <>
              <Behind vessel={vessel} />
              <Identity vessel={vessel} />
              <Story vessel={vessel} />
              <Plans vessel={vessel} />
              <div className={s.wide}>
                <Invented show={viewer?.practice.invented} />
              </div>
            </>
          )}
        </Answer>
      </main>
    </>
  )
}

function Facts({ list }: { list: [string, string | number | null | undefined | false][] }) {
  const known = list.filter(([, is]) => is !== null && is !== undefined && is !== '' && is !== false)
  if (known.length === 0) return <p className="note">Nothing written down.</p>
  return (
    <dl className="facts">
      {known.map(([name, is]) => (
        <div key={name} style={{ display: 'contents' }}>
          <dt>{name}</dt>
          <dd>{is}</dd>
        </div>
      ))}
    </dl>
  )
}

function Identity({ vessel }: { vessel: Vessel }) {
  const hin = vessel.hullNumber
  return (
    <section>
      <h2>Identity</h2>
      <Facts
        list={[
          ['former names', vessel.formerNames.join(', ')],
          ['hull or craft number', hin && [hin.asRead, hin.whereRead].filter(Boolean).join(', ')],
          ['it fits', hin?.layout !== 'unknown' && hin?.layout],
          ['may be of', hin?.possibleYears.join(', ')],
          ['builder', vessel.builder],
          ['model', vessel.model],
          ['yard number', vessel.yardNumber],
          ['registry', [vessel.registry, vessel.officialNumber].filter(Boolean).join(' ')],
          ['sail number', vessel.sailNumber],
        ]}
      />
      {hin?.looksAltered && (
        <p className={s.warned}>
          <Mark kind="untold" /> The number looks altered.
        </p>
      )}
      {hin?.warnings.map(({ code, text }) => (
        <p key={code} className={s.warned}>
          <Mark kind="untold" /> {text}
        </p>
      ))}
      <h2>Dimensions</h2>
      <Facts
        list={[
          ['length over all', vessel.loaMm && metres(vessel.loaMm)],
          ['hull length', vessel.hullLengthMm && metres(vessel.hullLengthMm)],
          ['waterline', vessel.lwlMm && metres(vessel.lwlMm)],
          ['beam', vessel.beamMm && metres(vessel.beamMm)],
          ['draught', vessel.draughtMm && metres(vessel.draughtMm)],
          ['displacement', vessel.displacementKg && `${(vessel.displacementKg / 1000).toFixed(1)} t`],
          ['underbody', vessel.underbodyAreaM2 && `${vessel.underbodyAreaM2.toFixed(1)} m²`],
          [
            'water',
            [vessel.water, vessel.monthsAfloat && `${vessel.monthsAfloat} months a year afloat`]
              .filter(Boolean)
              .join(', '),
          ],
        ]}
      />
      <h2>People</h2>
      {vessel.people.length === 0 ? (
        <p className="note">Nobody is noted as her owner.</p>
      ) : (
        <Facts
          list={parts(vessel.people).map((part) => [
            part.role,
            `${part.name}${part.from ? `, since ${monthYear(part.from)}` : ''}${part.to ? ` until ${monthYear(part.to)}` : ''}`,
          ])}
        />
      )}
    </section>
  )
}

interface Part {
  role: string
  name: string
  from: string | null
  to: string | null
}

/** One line a part and a person, from the first time to the last; those who still have theirs come first. */
function parts(people: Vessel['people']): Part[] {
  const found = new Map<string, Part>()
  for (const { role, party, from, to } of people) {
    const key = `${role} ${party.id}`
    const part = found.get(key) ?? { role, name: party.name, from: from ?? null, to: to ?? null }
    if (from && (!part.from || from < part.from)) part.from = from
    if (!to || (part.to && to > part.to)) part.to = to ?? null
    found.set(key, part)
  }
  return [...found.values()].sort(
    (a, b) => Number(a.to !== null) - Number(b.to !== null) || a.role.localeCompare(b.role),
  )
}

function Behind({ vessel }: { vessel: Vessel }) {
  const [ref, width] = useWidth<HTMLDivElement>(640)
  const narrow = useNarrow(700)
  const hull = vessel.elements.find(({ figure }) => figure)
  const behind = whatLies(hull?.layers ?? [], undefined)
  const others = (hull?.layers ?? []).filter(({ kind }) => kind !== 'behind')
  const datum = hull?.datum
  return (
    <section>
      <h2>What lies behind</h2>
      <div ref={ref}>
        {hull?.figure ? (
          <HullFigure
            spec={hull.figure}
            width={width}
            small={narrow}
            layers={behind.layers}
            fittings={behind.fittings}
            label="The hull and what lies behind her skin; the list says the same"
          />
        ) : (
          <p className="note">
            Her figure is drawn from a handful of dimensions. Until they are given, readings are kept and listed, and
            not drawn.
          </p>
        )}
      </div>
      <Facts
        list={[
          ...(hull?.layers ?? [])
            .filter(({ kind }) => kind === 'behind')
            .map((layer): [string, string] => [
              layer.what,
              [layer.side ?? 'both sides', layer.howKnown].filter(Boolean).join(', '),
            ]),
          ...others.map((layer): [string, string] => [
            layer.kind,
            [layer.what, layer.howKnown, layer.validFrom && `since ${shortDay(layer.validFrom)}`]
              .filter(Boolean)
              .join(', '),
          ]),
          [
            'measured from',
            datum
              ? `${datum.mark}${datum.offsetToPaintedWaterlineMm != null ? `; painted line ${datum.offsetToPaintedWaterlineMm} mm off` : ''}`
              : '',
          ],
        ]}
      />
    </section>
  )
}

function Story({ vessel }: { vessel: Vessel }) {
  const lines = [
    ...vessel.events.map((event) => ({
      key: event.id,
      at: event.from,
      when: event.asWritten || shortDay(event.from),
      what: `${event.kind}: ${event.what}`,
      source: event.source,
    })),
    ...vessel.spells
      .filter(({ cancelled }) => !cancelled)
      .map((spell) => {
        const lift = spell.actualLift ?? spell.plannedLift ?? ''
        const launch = spell.actualLaunch ?? spell.plannedLaunch
        const day = (instant: string) => shortDay(dayIn(instant, spell.timeZone))
        return {
          key: spell.id,
          at: lift,
          when: spell.asWritten || (lift ? day(lift) : ''),
          what: `ashore${spell.yard ? ` at ${spell.yard.name}` : ''}${launch ? ` until ${day(launch)}` : ', still'}${spell.held ? `, ${spell.held}` : ''}`,
          source: '',
        }
      }),
  ].sort((a, b) => (a.at < b.at ? 1 : -1))
  return (
    <section>
      <h2>Her story</h2>
      {lines.length === 0 ? (
        <p className="note">Nothing is known of her yet: built, treated, grounded, lifted.</p>
      ) : (
        <ol className={s.events}>
          {lines.map((line) => (
            <li key={line.key}>
              <span className="note">{line.when}</span>
              <span>
                {line.what}
                {line.source && <span className="small note"> · {line.source}</span>}
              </span>
            </li>
          ))}
        </ol>
      )}
    </section>
  )
}

function Plans({ vessel }: { vessel: Vessel }) {
  return (
    <section>
      <h2>Jobs</h2>
      {vessel.jobs.length === 0 ? (
        <p className="note">No job of hers that you may see.</p>
      ) : (
        <ol className={s.events}>
          {vessel.jobs.map((job) => (
            <li key={job.id}>
              <Link to={`/jobs/${job.id}`}>{job.number}</Link>
              <span>
                {job.kind}
                <span className="note">
                  {' '}
                  · {[job.client?.name, job.stage, job.lead?.name].filter(Boolean).join(' · ')}
                </span>
              </span>
            </li>
          ))}
        </ol>
      )}
      <div style={{ marginTop: 12 }}>
        <Allowed to="book">
          <OpenJob vessel={vessel.id} />
        </Allowed>
      </div>
      <h2>Plan of places</h2>
      {vessel.plans.length === 0 ? (
        <p className="note">No plan yet: dry places on both sides first, then stations and rows.</p>
      ) : (
        <ol className={s.events}>
          {[...vessel.plans]
            .sort((a, b) => b.planVersion - a.planVersion)
            .map((plan) => (
              <li key={plan.id}>
                <span>version {plan.planVersion}</span>
                <span>
                  {plan.kind}, {plural(plan.places.length, 'place')}, {plan.dry.length} dry
                  {plan.note && <span className="note"> · {plan.note}</span>}
                </span>
              </li>
            ))}
        </ol>
      )}
      <div style={{ marginTop: 12 }}>
        <Allowed to="writeVessel">
          <LayOut vessel={{ ...vessel, element: vessel.elements[0] ?? null }} />
        </Allowed>
      </div>
      {vessel.notes && (
        <>
          <h2>Notes</h2>
          <p className="measure">{vessel.notes}</p>
        </>
      )}
    </section>
  )
}
