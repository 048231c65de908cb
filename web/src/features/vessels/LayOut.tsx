import { type FormEvent, useMemo, useState } from 'react'
import { type Client, type CombinedError, useClient } from 'urql'
import { Failed } from '../../app/Fault'
import { fromDims, kinds } from '../../figure/defaults'
import { HullFigure } from '../../figure/HullFigure'
import { read as readSpec, type Spec } from '../../figure/spec'
import { AddPlacesDocument, AddPlanDocument, EditVesselDocument } from '../../graphql/gen/graphql'
import { dayIn } from '../../model/dates'
import type { FigureReading } from '../../model/history'
import { newId } from '../../model/id'
import { drySaid, type Layout, layOut, mostPlaces, usual } from '../../model/layout'
import { parseQuantity } from '../../model/number'
import { plural } from '../../model/words'
import { NumberField, SelectField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import { useWidth } from '../../ui/useWidth'
import { keepClearOf, whatLies } from '../history/whatLies'
import { hullOf, type Known } from './hull'
import s from './vessels.module.css'

const text = (mm: number | null | undefined) => (mm ? String(mm / 1000) : '')
const fields = [
  ['loa', 'Length over all'],
  ['beam', 'Beam'],
  ['draught', 'Draught'],
  ['lwl', 'Waterline, if known'],
] as const

/** Draws her hull from four numbers and lays a grid over it: dry places first, then stations and rows, mirrored. */
export function LayOut({ vessel }: { vessel: Known }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Lay out a grid
      </button>
      <Sheet title="Hull and grid" open={open} onClose={() => setOpen(false)} wide>
        {open && <Form vessel={vessel} onDone={() => setOpen(false)} />}
      </Sheet>
    </>
  )
}

function Form({ vessel, onDone }: { vessel: Known; onDone: () => void }) {
  const client = useClient()
  const drawn = readSpec(vessel.element?.figure)
  const layers = vessel.element?.layers ?? []
  const today = dayIn(Date.now(), 'UTC')
  const behind = keepClearOf(layers, today)
  const [kind, setKind] = useState('finKeelSloop')
  const [said, setSaid] = useState({
    loa: text(vessel.loaMm),
    beam: text(vessel.beamMm),
    draught: text(vessel.draughtMm),
    lwl: text(vessel.lwlMm),
    bootTop: '',
    station: String(usual.station),
    row: String(usual.row),
    dry: String(usual.dry),
  })
  const [busy, setBusy] = useState(false)
  const [error, setError] = useState<CombinedError | null>(null)
  const put = (field: keyof typeof said) => (event: { target: { value: string } }) =>
    setSaid((now) => ({ ...now, [field]: event.target.value }))
  const number = (field: keyof typeof said) => {
    const parsed = parseQuantity(said[field])
    return parsed.ok ? parsed.value : Number.NaN
  }
  const made = drawn
    ? { spec: drawn, problems: [] }
    : fromDims(kind, {
        loa: number('loa'),
        beam: number('beam'),
        draught: number('draught'),
        ...(said.lwl.trim() ? { lwl: number('lwl') } : {}),
      })
  const spacing = { station: number('station'), row: number('row'), dry: number('dry') }
  const sane = spacing.station >= 0.2 && spacing.row >= 0.1 && spacing.dry >= 0.1 && spacing.dry < 2
  const grid = made.spec && sane ? layOut(made.spec, spacing, behind) : null
  const dry = grid && drySaid(grid)
  const wrong = (field: string) => made.problems.find((problem) => problem.field === field)?.text

  async function send(event: FormEvent) {
    event.preventDefault()
    if (!made.spec || !grid) return
    setBusy(true)
    setError(null)
    try {
      const bootTop = number('bootTop')
      await keep(client, vessel, made.spec, grid, Number.isNaN(bootTop) ? undefined : Math.round(bootTop * 1000))
      if (!drawn)
        await keepDimensions(
          client,
          vessel,
          fields.map(([field]) => Math.round(number(field) * 1000)),
        )
      onDone()
    } catch (fault) {
      setError(fault as CombinedError)
    } finally {
      setBusy(false)
    }
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      {!drawn && (
        <div className="fields">
          <SelectField label="She is a" value={kind} onChange={(event) => setKind(event.target.value)}>
            {Object.entries(kinds).map(([value, name]) => (
              <option key={value} value={value}>
                {name}
              </option>
            ))}
          </SelectField>
          {fields.map(([field, label]) => (
            <NumberField
              key={field}
              label={label}
              unit="m"
              value={said[field]}
              onChange={put(field)}
              error={said[field].trim() ? wrong(field) : undefined}
            />
          ))}
        </div>
      )}
      <div className="fields">
        <NumberField label="Between stations" unit="m" value={said.station} onChange={put('station')} />
        <NumberField label="Between rows" unit="m" value={said.row} onChange={put('row')} />
        <NumberField
          label="Dry row above the water"
          unit="m"
          value={said.dry}
          onChange={put('dry')}
          help="A quarter of a metre clear of the boot-top."
        />
        {vessel.element?.bootTopMm == null && (
          <NumberField
            label="Top of the boot-top above the water"
            unit="m"
            value={said.bootTop}
            onChange={put('bootTop')}
            error={said.bootTop.trim() && Number.isNaN(number('bootTop')) ? 'metres, such as 0.12' : undefined}
            help="Without it no dry place can be judged."
          />
        )}
      </div>
      {made.spec && grid && <Preview spec={made.spec} grid={grid} behind={whatLies(layers, today)} />}
      {grid && grid.labels.length > mostPlaces && (
        <Notice bad>
          {plural(grid.labels.length, 'place')}: more than a day’s reading. Set stations or rows further apart.
        </Notice>
      )}
      {dry && <Notice bad={dry.bad}>{dry.text}</Notice>}
      <p className="small note">
        A start, drawn from how boats of her kind usually are: measure her against it. Labels are for ever; a place in
        the way of a rail or the keel is shifted at the boat and its true position noted.
      </p>
      <div>
        <button
          type="submit"
          className="act"
          disabled={busy || !grid || grid.labels.length === 0 || grid.labels.length > mostPlaces}
        >
          {grid ? `Keep ${plural(grid.labels.length, 'place')}, ${grid.dry.length} dry` : 'Keep'}
        </button>
      </div>
    </form>
  )
}

function Preview({ spec, grid, behind }: { spec: Spec; grid: Layout; behind: ReturnType<typeof whatLies> }) {
  const [ref, width] = useWidth<HTMLDivElement>(900)
  const readings = useMemo(
    () =>
      grid.labels.map(
        (label, i): FigureReading => ({
          id: `${grid.sides[i]} ${label}`,
          side: grid.sides[i] ?? 'port',
          along: (grid.along[i] ?? 0) / 1000,
          down: (grid.down[i] ?? 0) / 1000,
          step: -1,
          gap: 'due',
        }),
      ),
    [grid],
  )
  return (
    <div ref={ref}>
      <HullFigure
        spec={spec}
        width={width}
        small={width < 600}
        readings={readings}
        layers={behind.layers}
        fittings={behind.fittings}
        label="The hull with the places to be read"
      />
    </div>
  )
}

/** Element, places, plan: three calls in order; each is harmless to repeat. */
async function keep(client: Client, vessel: Known, figure: Spec, grid: Layout, bootTopMm: number | undefined) {
  const element = await hullOf(client, vessel, { figure, bootTopMm })
  const added = await client
    .mutation(AddPlacesDocument, {
      input: {
        mutation: newId('mut'),
        element,
        ids: grid.labels.map(() => newId('plc')),
        labels: grid.labels,
        sides: grid.sides,
        along: grid.along,
        down: grid.down,
        stations: grid.stations,
        rows: grid.rows,
      },
    })
    .toPromise()
  if (added.error) throw added.error
  const ordinals = added.data?.addPlaces.ordinals ?? []
  const dry = grid.dry.map((i) => ordinals[i] ?? null)
  const isDry = new Set(grid.dry)
  const planned = await client
    .mutation(AddPlanDocument, {
      input: {
        mutation: newId('mut'),
        id: newId('pln'),
        vessel: vessel.id,
        places: [...dry, ...ordinals.filter((_, i) => !isDry.has(i))],
        dry,
      },
    })
    .toPromise()
  if (planned.error) throw planned.error
}

/** The dimensions that her figure was drawn from are hers, where none was written down before. */
async function keepDimensions(client: Client, vessel: Known, typed: number[]) {
  const [loaMm, beamMm, draughtMm, lwlMm] = typed
  const was = { loaMm: vessel.loaMm, beamMm: vessel.beamMm, draughtMm: vessel.draughtMm, lwlMm: vessel.lwlMm }
  const now = Object.entries({ loaMm, beamMm, draughtMm, lwlMm }).filter(
    ([key, mm]) => Number.isFinite(mm) && was[key as keyof typeof was] == null,
  )
  if (now.length === 0) return
  const { error } = await client
    .mutation(EditVesselDocument, {
      input: { mutation: newId('mut'), id: vessel.id, version: vessel.version, ...Object.fromEntries(now) },
    })
    .toPromise()
  if (error) throw error
}
