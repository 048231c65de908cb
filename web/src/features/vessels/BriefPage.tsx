import { type ReactNode, useState } from 'react'
import { Link, useParams } from 'react-router'
import { useQuery } from 'urql'
import { Allowed, useMay } from '../../app/Allowed'
import { NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { useViewer } from '../../app/useViewer'
import { HullFigure } from '../../figure/HullFigure'
import { Mark } from '../../figure/marks'
import { VesselBriefDocument, type VesselBriefQuery } from '../../graphql/gen/graphql'
import type { Action } from '../../model/actions'
import { dayIn, monthYear, shortDay } from '../../model/dates'
import { metres, plural } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { useNarrow, useWidth } from '../../ui/useWidth'
import { whatLies } from '../history/whatLies'
import { AddPart } from '../people/AddPart'
import { Holds } from '../privacy/Holds'
import { AddEvent } from './AddEvent'
import { AddLayer } from './AddLayer'
import { EditVessel } from './EditVessel'
import { EndLayer } from './EndLayer'
import { LayOut } from './LayOut'
import { MeasuredFrom } from './MeasuredFrom'
import { VesselRunning } from './VesselRunning'
import s from './vessels.module.css'

type Vessel = NonNullable<VesselBriefQuery['vessel']>

/** What is known of a hull before anybody goes to her: identity, dimensions, what lies behind, her history. */
export default function BriefPage() {
  const { id = '' } = useParams()
  const viewer = useViewer()
  const [{ data, error }, ask] = useQuery({ query: VesselBriefDocument, variables: { id } })
  const again = () => ask({ requestPolicy: 'network-only' })
  if (data && !data.vessel) return <NotFound />
  return (
    <>
      {data?.vessel && <VesselRunning vessel={data.vessel} leaf="brief" />}
      <main id="main" className={s.brief}>
        <Answer data={data?.vessel} error={error} again={again} lines={12}>
          {(vessel) => (
            <>
              <div>
                <Behind vessel={vessel} onDone={again} />
                <Story vessel={vessel} />
              </div>
              <div>
                <Identity vessel={vessel} onDone={again} />
                <Plans vessel={vessel} />
                <Holds of={{ vessel: vessel.id }} />
              </div>
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

function Identity({ vessel, onDone }: { vessel: Vessel; onDone: () => void }) {
  const [sheet, setSheet] = useState<'known' | 'part' | null>(null)
  const hin = vessel.hullNumber
  return (
    <section>
      <div className={s.head}>
        <h2>Identity</h2>
        <Way to="writeVessel" onPress={() => setSheet('known')}>
          Write what is known
        </Way>
      </div>
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
      <div className={s.head}>
        <h2>People</h2>
        <Way to="writePeople" onPress={() => setSheet('part')}>
          Add a part
        </Way>
      </div>
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
      {sheet === 'known' && <EditVessel vessel={vessel} onClose={() => setSheet(null)} />}
      {sheet === 'part' && <AddPart of={{ vessel: vessel.id }} onClose={() => setSheet(null)} onDone={onDone} />}
    </section>
  )
}

/** A quiet way to write something, beside the heading that it belongs to, for those who may. */
function Way({ to, onPress, children }: { to: Action; onPress: () => void; children: ReactNode }) {
  return (
    <Allowed to={to}>
      <button type="button" className="quiet push no-print" onClick={onPress}>
        {children}
      </button>
    </Allowed>
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

function Behind({ vessel, onDone }: { vessel: Vessel; onDone: () => void }) {
  const [ref, width] = useWidth<HTMLDivElement>(640)
  const [sheet, setSheet] = useState<'layer' | 'mark' | null>(null)
  const narrow = useNarrow(700)
  const hull = vessel.elements.find(({ figure }) => figure) ?? vessel.elements[0]
  const behind = whatLies(hull?.layers ?? [], dayIn(Date.now(), 'UTC'))
  const datum = hull?.datum
  return (
    <section>
      <div className={s.head}>
        <h2>What lies behind</h2>
        <Way to="writeVessel" onPress={() => setSheet('layer')}>
          Write what lies where
        </Way>
      </div>
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
      <Layers layers={hull?.layers ?? []} onDone={onDone} />
      {hull && (
        <>
          <div className={s.head}>
            <h3>Measured from</h3>
            <Way to="writeVessel" onPress={() => setSheet('mark')}>
              {datum ? 'Another mark' : 'Name the mark'}
            </Way>
          </div>
          <Facts
            list={[
              ['mark', datum?.mark],
              [
                'painted line',
                datum?.offsetToPaintedWaterlineMm != null && `${datum.offsetToPaintedWaterlineMm} mm off`,
              ],
              ['boot-top', hull.bootTopMm != null && `ends ${hull.bootTopMm} mm above it`],
            ]}
          />
        </>
      )}
      {sheet === 'layer' && (
        <AddLayer vessel={{ ...vessel, element: hull ?? null }} onClose={() => setSheet(null)} onDone={onDone} />
      )}
      {sheet === 'mark' && hull && <MeasuredFrom element={hull} onClose={() => setSheet(null)} onDone={onDone} />}
    </section>
  )
}

/** How she is built, what coats her and what stands behind the skin, what is there now before what is gone. */
function Layers({ layers, onDone }: { layers: Vessel['elements'][number]['layers']; onDone: () => void }) {
  const may = useMay('writeVessel')
  if (layers.length === 0)
    return (
      <p className="note">
        Nothing written down: tanks, liners and coatings move readings, and what is not known cannot be allowed for.
      </p>
    )
  const sorted = [...layers].sort((a, b) => Number(Boolean(a.validTo)) - Number(Boolean(b.validTo)))
  return (
    <ul className={s.layers}>
      {sorted.map((layer) => (
        <li key={layer.id}>
          <span className="note">{layer.kind}</span>
          <span>
            {layer.what}
            <span className="small note">
              {' '}
              {[
                layer.kind === 'behind' && (layer.side ?? 'both sides'),
                layer.howKnown,
                layer.validFrom && `since ${shortDay(layer.validFrom)}`,
                layer.validTo && `gone ${shortDay(layer.validTo)}`,
              ]
                .filter(Boolean)
                .join(', ')}
            </span>
          </span>
          {may && !layer.validTo && <EndLayer layer={layer} onDone={onDone} />}
        </li>
      ))}
    </ul>
  )
}

function Story({ vessel }: { vessel: Vessel }) {
  const [open, setOpen] = useState(false)
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
      <div className={s.head}>
        <h2>Her story</h2>
        <Way to="writeVessel" onPress={() => setOpen(true)}>
          Write what happened
        </Way>
      </div>
      {open && <AddEvent vessel={vessel.id} onClose={() => setOpen(false)} />}
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
          <Link className="plain" to={`/engagements/new?vessel=${vessel.id}&name=${encodeURIComponent(vessel.name)}`}>
            Write down an enquiry for her
          </Link>
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
                  {plan.dryChangeReason && (
                    <span className="small note"> Dry places changed: {plan.dryChangeReason.replace(/\.$/, '')}.</span>
                  )}
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
