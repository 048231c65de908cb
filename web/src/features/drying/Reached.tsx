import { useState } from 'react'
import type { DryingLogFragment } from '../../graphql/gen/graphql'
import { Choice } from '../../ui/Choice'
import { Table } from '../../ui/Table'
import s from './drying.module.css'

/** How deep days ashore can reach in bare laminate, and how long a wall takes: by diffusion alone, a band and never a date. */
export function Reached({ log }: { log: DryingLogFragment }) {
  const [at, setAt] = useState(log.reached.length - 1)
  const table = log.reached[at]
  if (!table) return null
  const names = ['slow', 'typical', 'fast']
  return (
    <section>
      <div className={s.heading}>
        <h2>How deep drying reaches</h2>
        {log.reached.length > 1 && (
          <Choice
            label="Temperature of the wall"
            value={String(at)}
            onChange={(k) => setAt(Number(k))}
            options={log.reached.map(({ temperature }, k) => ({
              value: String(k),
              name: k === 0 ? `At ${celsius(temperature)}` : `In her own air, ${celsius(temperature)}`,
            }))}
          />
        )}
      </div>
      <p className="note measure">
        Depth at which bare laminate is half dried, mm. Less under a coating; rain and washing start it anew. It is no
        depth that a reading speaks for: an instrument senses what lies deeper, too.
      </p>
      <div className={s.reached}>
        <Table
          caption={`Half-dried depth, mm, by days ashore at ${celsius(table.temperature)}`}
          className=""
          rows={table.rows.map((row, k) => ({ ...row, name: names[k] ?? '' }))}
          id={({ name }) => name}
          columns={[
            {
              head: 'laminate',
              names: true,
              nowrap: true,
              cell: ({ name, diffusivity }) => (
                <>
                  {name}
                  <span className={`small note ${s.under}`}>{(diffusivity * 1e12).toPrecision(2)} × 10⁻¹² m²/s</span>
                </>
              ),
            },
            ...table.days.map((days, k) => ({
              head: days < 1 ? '1 h' : `${Math.round(days)} d`,
              num: true,
              cell: ({ depths }: { depths: readonly number[] }) => millimetres(depths[k] ?? 0),
            })),
          ]}
        />
      </div>
      <div className={s.reached}>
        <Table
          caption={`Days until a wall has lost water through one face at ${celsius(table.temperature)}, typical laminate`}
          className=""
          rows={table.lose}
          id={({ wallMm }) => String(wallMm)}
          columns={[
            {
              head: 'wall',
              names: true,
              nowrap: true,
              cell: ({ wallMm }) => (wallMm === log.physics?.wallMm ? `${wallMm} mm, as hers` : `${wallMm} mm`),
            },
            { head: 'half', num: true, cell: ({ half }) => `${Math.round(half)} d` },
            { head: 'nine tenths', num: true, cell: ({ nineTenths }) => `${Math.round(nineTenths)} d` },
          ]}
        />
      </div>
      <p className="note small measure">Figures: {table.tag}.</p>
    </section>
  )
}

const celsius = (t: number) => `${t.toFixed(t % 1 === 0 ? 0 : 1)} °C`

/** As fine as it is known. */
const millimetres = (mm: number) => mm.toFixed(mm < 1 ? 2 : 1)
