import { type ChangeEvent, useState } from 'react'
import { type CombinedError, useClient } from 'urql'
import { Failed } from '../../app/Fault'
import { ImportReadingsDocument, PreviewImportDocument, type PreviewImportQuery } from '../../graphql/gen/graphql'
import { upload } from '../../graphql/upload'
import { newId } from '../../model/id'
import type { GridPlace } from '../../model/keep'
import { tenths } from '../../model/number'
import { plural } from '../../model/words'
import { Notice, Waiting } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import { Table } from '../../ui/Table'
import s from './grid.module.css'

type Preview = PreviewImportQuery['previewImport']

/** A file of readings: looked at first, then kept whole or not at all. */
export function ImportSheet({
  pass,
  places,
  open,
  onClose,
  onDone,
}: {
  pass: string
  places: readonly GridPlace[]
  open: boolean
  onClose: () => void
  onDone: (kept: number) => void
}) {
  const client = useClient()
  const [name, setName] = useState('')
  const [sent, setSent] = useState('')
  const [preview, setPreview] = useState<Preview | null>(null)
  const [busy, setBusy] = useState('')
  const [fault, setFault] = useState<CombinedError | string | null>(null)

  async function look(event: ChangeEvent<HTMLInputElement>) {
    const file = event.target.files?.[0]
    event.target.value = ''
    if (!file) return
    setName(file.name)
    setPreview(null)
    setFault(null)
    setBusy('Sending the file')
    try {
      const id = await upload(client, file, 'readings', 'text/csv')
      setSent(id)
      setBusy('Reading it')
      const { data, error } = await client
        .query(PreviewImportDocument, { upload: id, pass }, { requestPolicy: 'network-only' })
        .toPromise()
      if (error) throw error
      setPreview(data?.previewImport ?? null)
    } catch (error) {
      setFault(isCombined(error) ? error : String(error instanceof Error ? error.message : error))
    } finally {
      setBusy('')
    }
  }

  async function keep() {
    setBusy('Keeping')
    const { data, error } = await client
      .mutation(ImportReadingsDocument, { input: { mutation: newId('mut'), id: newId('upl'), upload: sent, pass } })
      .toPromise()
    setBusy('')
    if (error) setFault(error)
    else if (data) {
      setPreview(null)
      onDone(data.importReadings.kept)
    }
  }

  const nameOf = (ordinal: number | null) => {
    const place = places.find((p) => p.ordinal === ordinal)
    return place ? `${place.side} ${place.label}` : `place ${ordinal}`
  }

  return (
    <Sheet title="Import readings" open={open} onClose={onClose} wide>
      <div className={s.drop}>
        <p>
          A CSV file: stations down and rows across as on the blank sheet, or a line a reading. Comma or point,
          semicolons or tabs; nothing is kept before you have seen it.
        </p>
        <p style={{ marginTop: 12 }}>
          <label className="plain">
            {name ? 'Choose another file' : 'Choose a file'}
            <input type="file" accept=".csv,text/csv,.txt" className="sr" onChange={look} />
          </label>
        </p>
        {name && <p className="small note">{name}</p>}
      </div>
      {busy && <Waiting lines={3} label={busy} />}
      {fault && (typeof fault === 'string' ? <Notice bad>{fault}</Notice> : <Failed error={fault} />)}
      {preview && (
        <>
          <p className="lead">
            {preview.layout}: <b>{plural(preview.good, 'reading')}</b>
            {preview.faults.length > 0
              ? ` and ${plural(preview.faults.length, 'cell')} that cannot be kept`
              : ', all good'}
            .
          </p>
          {preview.faults.length > 0 && (
            <Table
              caption="What is wrong, by the file’s own rows and columns"
              columns={[
                { head: 'row', num: true, cell: (f) => f.row },
                { head: 'column', num: true, cell: (f) => f.column },
                { head: 'what is wrong', cell: (f) => f.text },
              ]}
              rows={preview.faults}
              id={(f) => `${f.row}/${f.column}/${f.text}`}
            />
          )}
          <div className="scroll" style={{ maxHeight: 260, overflowY: 'auto', marginBlock: 12 }}>
            <Table
              caption="What would be kept"
              columns={[
                { head: 'place', names: true, cell: (row) => nameOf(row.ordinal) },
                { head: 'placements', num: true, cell: (row) => row.text },
              ]}
              rows={preview.places.map((ordinal, i) => ({
                ordinal,
                text: preview.written[i] || (preview.placements[i] ?? []).map(tenths).join(' '),
              }))}
              id={(row) => String(row.ordinal)}
            />
          </div>
          <div className="buttons">
            <button
              type="button"
              className="act"
              disabled={Boolean(busy) || preview.faults.length > 0 || preview.good === 0}
              onClick={keep}
            >
              Import {plural(preview.good, 'reading')}
            </button>
            {preview.faults.length > 0 && (
              <span className="small note">All or nothing: put the file right and choose it again.</span>
            )}
          </div>
        </>
      )}
    </Sheet>
  )
}

const isCombined = (error: unknown): error is CombinedError => error instanceof Error && error.name === 'CombinedError'
