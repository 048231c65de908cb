import { useEffect, useEffectEvent, useMemo } from 'react'
import { Failed } from '../../app/Fault'
import { useSearch } from '../../app/useSearch'
import { longDay } from '../../model/dates'
import { type Gate, gateSays, idsOf, setOut, zoneRows } from '../../model/gate'
import { comparable, edgesOf, isVoid, type Spot, said } from '../../model/history'
import { type Behind, statements } from '../../model/statements'
import { Invented } from '../../ui/Invented'
import { LookAgain } from '../findings/LookAgain'
import { Ahead } from './Ahead'
import { Levels } from './Beside'
import { choices } from './choices'
import { forYou, LeftOut } from './LeftOut'
import { PlacePanel } from './PlacePanel'
import { PlacesTable } from './PlacesTable'
import { Plate } from './Plate'
import { pinsOf } from './pins'
import { Reckoning } from './Reckoning'
import s from './resurvey.module.css'
import { Says } from './Says'
import { Stands } from './Stands'
import type { SpellLine } from './TimeRibbon'
import { pairsOf, TwoDepths } from './TwoDepths'
import type { Told } from './told'
import { Unseen } from './Unseen'
import { useVisit } from './useVisits'
import { VisitLog } from './VisitLog'
import type { FigureFitting, FigureLayer } from './whatLies'

/** A pass as the history gives it, with the context its words need and what the service says of it. */
export type Pass = Told['passes'][number]

export interface Photo {
  id: string
  caption: string
  place?: number | null
  takenAt?: string | null
  thumb?: string | null
  view?: string | null
}

export interface ResurveyProps extends Told {
  figure: unknown
  spots: Spot[]
  layers: FigureLayer[]
  fittings: FigureFitting[]
  behind: Behind[]
  spells: readonly SpellLine[]
  photos: readonly Photo[]
  contrastEdges: readonly number[]
  invented: boolean
}

export function ResurveyView(props: ResurveyProps) {
  const { spots, passes, behind } = props
  const [choice, choose] = useSearch(choices)
  const now = passes.find(({ standing }) => standing === 'reference') ?? (passes.at(-1) as Pass)
  const then = passes.find(({ id }) => id === choice.beside && id !== now.id) ?? earlier(passes, now)
  const show = then || choice.show === 'map' ? choice.show : 'now'
  const chosen = spots.find(({ id }) => id === choice.place) ?? remarkable(spots, now)
  const shown = show === 'then' && then ? then : now
  const edges = edgesOf(shown, props.contrastEdges)
  const { visit, lacking } = useVisit(shown.visit)
  const pins = useMemo(() => pinsOf(visit, spots), [visit, spots])
  const gate = then?.gate ?? null
  const told = gate && gate.comparable > 0 ? gate : null
  const pairs = useMemo(() => pairsOf(passes), [passes])
  const says = useMemo(
    () => [
      ...statements(spots, shown, edgesOf(shown, props.contrastEdges), behind),
      ...(gate ? gateSays(gate) : []),
      ...props.course.map(setOut),
    ],
    [spots, shown, gate, behind, props.course, props.contrastEdges],
  )
  const lit = useMemo(() => {
    const all = [...says, ...shown.notSeen.statements, ...(props.ahead?.statements ?? [])]
    const zones = gate ? zoneRows(gate) : []
    const slots =
      all.find(({ code }) => code === choice.says)?.slots ?? zones.find(({ name }) => name === choice.says)?.slots
    return idsOf(spots, slots ?? [])
  }, [says, shown, gate, props.ahead, choice.says, spots])
  const sentences = {
    spots,
    open: choice.says,
    onOpen: (code: string | null) => choose({ says: code }),
    onPlace: (spot: Spot) => choose({ place: spot.id }),
  }

  /** Up and down the years, from anywhere on the page that takes no typing. */
  const scrub = useEffectEvent((event: KeyboardEvent) => {
    if ((event.key !== '[' && event.key !== ']') || event.target instanceof HTMLInputElement) return
    const others = passes.filter(({ id }) => id !== now.id)
    const i = others.findIndex(({ id }) => id === then?.id)
    const next = others[i + (event.key === ']' ? 1 : -1)]
    if (next) choose({ beside: next.id, show: show === 'now' ? 'then' : show })
  })
  useEffect(() => {
    addEventListener('keydown', scrub)
    return () => removeEventListener('keydown', scrub)
  }, [])

  return (
    <div className={s.resurvey} data-show={show}>
      <section className={s.hull} aria-label="The hull, unrolled">
        <Plate {...props} now={now} then={then} show={show} chosen={chosen} edges={edges} lit={lit} pins={pins} />
        {lacking && <Failed {...lacking} />}
      </section>
      <aside className={s.aside}>
        <div>
          {show === 'both' && (
            <Levels passes={passes} spots={spots} chosen={chosen} contrastEdges={props.contrastEdges} />
          )}
          <Says {...sentences} list={says} forYou={forYou(now, then)} />
          {!then && <p className={s.none}>One pass so far: there is nothing to set beside it yet.</p>}
        </div>
        {chosen && (
          <PlacePanel
            spot={chosen}
            spots={spots}
            passes={passes}
            now={shown}
            then={then}
            contrastEdges={props.contrastEdges}
            behind={behind}
            visit={visit}
            photos={props.photos.filter(({ place }) => place === chosen.slot + 1)}
            onChoose={(spot) => choose({ place: spot.id })}
          />
        )}
      </aside>
      {choice.table && <PlacesTable spots={spots} now={now} then={then} contrastEdges={props.contrastEdges} />}
      <section className={s.log} aria-label="Visits" id="visits">
        <VisitLog
          passes={passes}
          spells={props.spells}
          now={now}
          then={then}
          onNow={() => choose({ show: 'now' })}
          onThen={(pass) => choose({ beside: pass.id, show: show === 'now' ? 'then' : show }, { push: true })}
        />
        {then && (
          <Stands
            now={now}
            then={then}
            spots={spots}
            onHold={() => choose({ against: then.id, beside: now.id, show: 'now', says: null }, { push: true })}
          >
            <LeftOut passes={passes} now={now} />
          </Stands>
        )}
      </section>
      <div className={s.bands}>
        <div>
          {told && <Reckoning gate={told} since={span(passes, told)} open={choice.says} onOpen={sentences.onOpen} />}
          {pairs.length > 1 && <TwoDepths pairs={pairs} spots={spots} chosen={chosen} now={now} />}
          <Ahead ahead={props.ahead} toMeasure={props.toMeasure} {...sentences} />
        </div>
        <div>
          <Unseen pass={shown} {...sentences} />
          <LookAgain />
        </div>
      </div>
      <div className={s.foot}>
        <Invented show={props.invented} />
      </div>
    </div>
  )
}

/** "From 2 December 2023 to 29 November 2026". */
function span(passes: readonly Pass[], { earlier, later }: Gate): string {
  const day = (id: string) => longDay(passes.find((pass) => pass.id === id)?.on ?? '')
  return `From ${day(earlier)} to ${day(later)}`
}

/** The newest earlier pass that may be subtracted; else the newest earlier one. */
function earlier(passes: readonly Pass[], now: Pass): Pass | null {
  const before = passes.filter(({ id }) => id !== now.id)
  return before.findLast(({ standing }) => comparable(standing)) ?? before.at(-1) ?? null
}

/** The place that stands highest above the baseline: where a reader looks first. */
function remarkable(spots: readonly Spot[], pass: Pass): Spot | null {
  let best: Spot | null = null
  let most = Number.NEGATIVE_INFINITY
  for (const spot of spots) {
    const it = said(pass, spot.slot)
    const height = it.contrast ?? it.value
    if (height !== null && !isVoid(it) && height > most) [best, most] = [spot, height]
  }
  return best
}
