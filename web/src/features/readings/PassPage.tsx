import { useCallback, useMemo, useState } from 'react'
import { useParams } from 'react-router'
import { useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Failed, NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { HullFigure } from '../../figure/HullFigure'
import { Mark } from '../../figure/marks'
import { read } from '../../graphql/gen'
import {
  PassGridDocument,
  type PassGridQuery,
  PassHeadFragmentDoc,
  PassVesselDocument,
} from '../../graphql/gen/graphql'
import { parseCell, type Scale, shown } from '../../model/cell'
import { dayIn, longDay, visitDay } from '../../model/dates'
import type { FigureReading } from '../../model/history'
import { type GridPlace, gridPlaces, heldTexts, workCount, workOf } from '../../model/keep'
import { type Pasted, pastedSaid } from '../../model/paste'
import { walkOrder } from '../../model/walk'
import { capital, plural } from '../../model/words'
import { Notice } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { useWidth } from '../../ui/useWidth'
import { AddBlockCheck } from '../visits/AddBlockCheck'
import { AddCondition } from '../visits/AddCondition'
import { ClosePass } from '../visits/ClosePass'
import { PassFacts } from '../visits/PassFacts'
import { EntryGrid } from './EntryGrid'
import s from './grid.module.css'
import { ImportSheet } from './ImportSheet'
import { ToldPlace } from './ToldPlace'
import { useDraft } from './useDraft'
import { useKeep } from './useKeep'

type PassRow = NonNullable<PassGridQuery['pass']>
/** Of the visit, what the grid needs: the boat and the figure of her hull. */
interface VisitRow {
  id: string
  timeZone: string
  datePrecision: string
  dateAsWritten: string
  vessel: { id: string; name: string; figure?: unknown }
}

/** A pass typed in by hand: the grid, the hull under the hand, what is kept and what is not yet. */
export default function PassPage() {
  const { id = '' } = useParams()
  const [{ data, error }, again] = useQuery({ query: PassGridDocument, variables: { id } })
  const visit = data?.pass ? read(PassHeadFragmentDoc, data.pass).visit : ''
  const [about] = useQuery({ query: PassVesselDocument, variables: { visit }, pause: !visit })
  if (data && !data.pass) return <NotFound />
  const of = about.data?.visit
  const head = data?.pass ? read(PassHeadFragmentDoc, data.pass) : null
  return (
    <>
      <Running
        title={of ? of.vessel.name : 'Pass'}
        page={of ? `${of.vessel.name}, readings` : 'Readings'}
        tabs={
          of
            ? [
                { to: `/visits/${of.id}`, name: 'Visit' },
                { to: `/passes/${id}`, name: 'Readings' },
                { to: `/passes/${id}/sheet`, name: 'Blank sheet' },
                { to: `/vessels/${of.vessel.id}`, name: 'Resurvey' },
              ]
            : []
        }
        tabsLabel="This visit"
      >
        {head && of && (
          <>
            {[
              visitDay(dayIn(head.beganAt, of.timeZone), of, longDay),
              head.instrument?.name ?? head.instrumentAsWritten,
            ]
              .filter(Boolean)
              .join(' · ')}
            {head.scale && ` · scale ${head.scale.lowTenths / 10} to ${head.scale.highTenths / 10}`}
            {head.surface && ` · over ${head.surface}`}
          </>
        )}
      </Running>
      <main id="main">
        <Answer data={data?.pass} error={error} again={again} lines={14}>
          {(pass) => (
            <Grid
              key={pass.plan.id + id}
              pass={pass}
              visit={of ?? null}
              again={() => again({ requestPolicy: 'network-only' })}
            />
          )}
        </Answer>
      </main>
    </>
  )
}

function scaleOf(head: {
  instrument?: { name: string } | null
  instrumentAsWritten: string
  scale?: { lowTenths: number; highTenths: number } | null
}): Scale {
  return {
    instrument: head.instrument?.name ?? (head.instrumentAsWritten || 'this instrument'),
    least: head.scale?.lowTenths ?? 0,
    most: head.scale?.highTenths ?? 9999,
  }
}

function Grid({ pass, visit, again }: { pass: PassRow; visit: VisitRow | null; again: () => void }) {
  const head = read(PassHeadFragmentDoc, pass)
  const scale = useMemo(() => scaleOf(head), [head])
  const places = useMemo(() => gridPlaces(pass.axis, pass.plan), [pass.axis, pass.plan])
  const walk = useMemo(() => walkOrder(places), [places])
  const held = useMemo(() => heldTexts(places, pass.entries, pass.notReached), [places, pass.entries, pass.notReached])
  const { draft, write, undo, redo, settle } = useDraft(head.id, held)
  const { keep, busy, error } = useKeep(head.id)
  const [here, setHere] = useState<string | null>(walk.find(({ id }) => !held[id])?.id ?? walk[0]?.id ?? null)
  const [told, setTold] = useState('')
  const [reason, setReason] = useState('')
  const [importing, setImporting] = useState(false)
  const [telling, setTelling] = useState(false)
  const work = useMemo(
    () => workOf(places, draft.cells, held, pass.entries, scale),
    [places, draft.cells, held, pass.entries, scale],
  )
  const place = places.find(({ id }) => id === here) ?? null
  const open = head.state === 'open'
  const needsReason = work.corrections.length > 0
  const own = workCount(work) + work.followOn.length + work.followOff.length + work.reached.length

  const onPaste = useCallback(
    (done: Pasted) => {
      write(`pasted ${plural(done.entries.length, 'cell')}`, done.entries)
      setTold(pastedSaid(done))
    },
    [write],
  )
  const onKeep = useCallback(async () => {
    if (!open || own === 0 || busy || (needsReason && !reason.trim())) return
    // Typed the day it was read: now. Typed in later from a sheet: the time of the pass.
    const zone = visit?.timeZone ?? 'UTC'
    const live = dayIn(new Date(), zone) === dayIn(head.beganAt, zone)
    const at = Math.floor((live ? Date.now() : Date.parse(head.beganAt)) / 1000)
    const { sent, asRepeats, failed } = await keep(work, reason.trim(), () => at)
    const ordinals = new Set(sent)
    settle(places.filter(({ ordinal }) => ordinals.has(ordinal)).map(({ id }) => [id, draft.cells[id] ?? ''] as const))
    // What was kept before something failed is held, too: it is shown, and not sent as if it were new.
    if (!failed || sent.length > 0) again()
    if (failed) return
    setReason('')
    setTold(
      `${plural(sent.length, 'place')} received.${asRepeats.length ? ` ${plural(asRepeats.length, 'place')} had been read by another device already: kept as repeats.` : ''}`,
    )
  }, [open, own, busy, needsReason, reason, work, visit, head.beganAt, keep, settle, again, places, draft.cells])

  const goTo = (id: string) => document.querySelector<HTMLInputElement>(`[data-place="${id}"]`)?.focus()
  const done = places.filter(({ id }) => draft.cells[id]).length
  const dry = places.filter(({ baseline }) => baseline)

  return (
    <div className={s.page}>
      <section className={s.left} aria-label="Readings by station and row">
        {!open && (
          <Notice>
            This pass is {head.state}. A reading of it is put right from the resurvey, in the story of its place, with a
            reason; the old value stays beside it.
          </Notice>
        )}
        <EntryGrid
          places={places}
          cells={draft.cells}
          held={held}
          scale={scale}
          readOnly={!open}
          here={here}
          onHere={setHere}
          onWrite={write}
          onPaste={onPaste}
          onUndo={undo}
          onRedo={redo}
          onKeep={onKeep}
        />
      </section>
      <aside className={s.right}>
        {place && (
          <div className={s.place}>
            <h2>
              {capital(place.side)} {place.label}
            </h2>
            <p className={s.count}>
              dry {dry.filter(({ id }) => draft.cells[id]).length} of {dry.length}
              <br />
              all {done} of {places.length}
            </p>
            <p className={s.big}>{face(draft.cells[place.id] ?? '', scale)}</p>
          </div>
        )}
        <UnderTheHand visit={visit} places={places} cells={draft.cells} scale={scale} here={here} onHere={goTo} />
        <p className={s.last} role="status">
          {lineFor(place, draft.cells, scale) || told}
        </p>
        {error && <Failed error={error} again={onKeep} />}
        {work.wrong.length > 0 && (
          <section>
            <h2>Not understood</h2>
            <ul className={s.wrongs}>
              {work.wrong.map(({ place: id, why }) => {
                const at = places.find((p) => p.id === id)
                return (
                  <li key={id}>
                    <button type="button" className="quiet" onClick={() => goTo(id)}>
                      {at?.side} {at?.label}
                    </button>
                    {why}
                  </li>
                )
              })}
            </ul>
          </section>
        )}
        {work.emptied.length > 0 && (
          <Notice bad>
            {plural(work.emptied.length, 'cell')} emptied though a reading is held there. Nothing is deleted: write{' '}
            <b>x and the reason</b> to void it, or press Escape in the cell to put it back.
          </Notice>
        )}
        <PassFacts pass={pass} plan={pass.plan} />
        {open && visit && (
          <div className="buttons no-print">
            <AddBlockCheck pass={pass} />
            <AddCondition visit={visit.id} again name="Air and skin now" />
          </div>
        )}
        <details>
          <summary>
            <b>Keys and signs</b>
          </summary>
          <dl className={s.keys}>
            <dt>Enter</dt>
            <dd>the next place of the walk; Shift Enter the one before</dd>
            <dt>arrows</dt>
            <dd>up and down a row, left and right along a station</dd>
            <dt>35,3 35,8 35,1</dt>
            <dd>placements, one to five; their median is the reading</dd>
            <dt>&lt;5 &gt;100 15–20</dt>
            <dd>below, above, a range as the needle stood</dd>
            <dt>n prop pad</dt>
            <dd>not reached, and why</dd>
            <dt>x pads rocked</dt>
            <dd>void, and why</dd>
            <dt>34.2 !</dt>
            <dd>follow up inside</dd>
            <dt>Ctrl V</dt>
            <dd>a block from a spreadsheet, first cell here</dd>
            <dt>Ctrl Z, Ctrl Y</dt>
            <dd>take back one act, do it again</dd>
            <dt>Ctrl S</dt>
            <dd>send what is typed</dd>
          </dl>
        </details>
      </aside>
      {open && (
        <div className={s.bar}>
          {place && (
            <p className={s.spot}>
              <b>
                {capital(place.side)} {place.label}
              </b>
              <span className={s.count}>
                dry {dry.filter(({ id }) => draft.cells[id]).length} of {dry.length}, all {done} of {places.length}
              </span>
            </p>
          )}
          <p className={s.sync} role="group" aria-label="Where the readings are">
            <span>
              <Mark kind="received" /> {places.filter(({ id }) => held[id]).length} received
            </span>
            <span>
              <Mark kind="phone" /> {own} on this page
            </span>
            {work.wrong.length > 0 && (
              <span style={{ color: 'var(--warn)' }}>
                <Mark kind="void" /> {work.wrong.length} not understood
              </span>
            )}
          </p>
          {needsReason && (
            <label className={s.reason}>
              <span className="small">Why {plural(work.corrections.length, 'reading')} changed</span>
              <input
                value={reason}
                onChange={(event) => setReason(event.target.value)}
                placeholder="misread from the sheet"
              />
            </label>
          )}
          <div className="buttons push">
            <button type="button" className="plain" disabled={draft.done.length === 0} onClick={undo}>
              Undo{draft.done.length > 0 ? `: ${draft.done.at(-1)?.name}` : ''}
            </button>
            {head.quoted && (
              <button type="button" className="plain" onClick={() => setTelling(true)}>
                A place told in words
              </button>
            )}
            <button type="button" className={`plain ${s.desk}`} onClick={() => setImporting(true)}>
              Import a file
            </button>
            <Allowed to="writeVisit">
              <ClosePass pass={pass} unsent={own} />
            </Allowed>
            <button
              type="button"
              className="act"
              disabled={own === 0 || busy || (needsReason && !reason.trim())}
              onClick={onKeep}
            >
              {busy ? 'Sending' : own === 0 ? 'All received' : `Send ${plural(own, 'place')}`}
            </button>
          </div>
        </div>
      )}
      <ToldPlace
        pass={head.id}
        element={head.element}
        at={head.beganAt}
        open={telling}
        onClose={() => setTelling(false)}
      />
      <ImportSheet
        pass={head.id}
        places={places}
        open={importing}
        onClose={() => setImporting(false)}
        onDone={(n) => {
          setImporting(false)
          setTold(`${plural(n, 'reading')} imported.`)
          again()
        }}
      />
    </div>
  )
}

function face(text: string, scale: Scale): string {
  const cell = parseCell(text, scale)
  return cell.kind === 'read' ? shown(cell) : ''
}

/** What was just typed, in a sentence; never how it stands to earlier years before the pass is closed. */
function lineFor(place: GridPlace | null, cells: Readonly<Record<string, string>>, scale: Scale): string {
  if (!place) return ''
  const cell = parseCell(cells[place.id] ?? '', scale)
  const name = `${capital(place.side)} ${place.label}`
  switch (cell.kind) {
    case 'wrong':
      return `${name}: ${cell.why}.`
    case 'unread':
      return `${name} not reached: ${cell.reason}.`
    case 'void':
      return `${name} void: ${cell.reason}.`
    case 'read':
      return cell.placements.length > 1 ? `${name}: median of ${cell.placements.length} placements ${shown(cell)}.` : ''
    default:
      return ''
  }
}

/** The hull with what is typed so far, the present place under the cross-bearings. Bare figures: no verdict yet. */
function UnderTheHand({
  visit,
  places,
  cells,
  scale,
  here,
  onHere,
}: {
  visit: VisitRow | null
  places: readonly GridPlace[]
  cells: Readonly<Record<string, string>>
  scale: Scale
  here: string | null
  onHere: (place: string) => void
}) {
  const [ref, width] = useWidth<HTMLDivElement>(480)
  const readings = useMemo(
    () =>
      places.map((place): FigureReading => {
        const cell = parseCell(cells[place.id] ?? '', scale)
        const at = { id: place.id, side: place.side, along: place.along / 1000, down: place.down / 1000, step: -1 }
        if (cell.kind === 'read') return { ...at, value: shown(cell), ...(cell.follow ? { follow: true } : {}) }
        if (cell.kind === 'unread') return { ...at, gap: 'unread' }
        if (cell.kind === 'void') return { ...at, gap: 'void' }
        return { ...at, gap: 'due' }
      }),
    [places, cells, scale],
  )
  return (
    <div ref={ref} className={s.desk}>
      {visit?.vessel.figure ? (
        <HullFigure
          spec={visit.vessel.figure}
          width={width}
          small
          readings={readings}
          chosen={here ?? ''}
          onChoose={onHere}
          label="The hull with what is typed so far; the grid says the same"
        />
      ) : null}
    </div>
  )
}
