import { type FormEvent, useState } from 'react'
import { type CombinedError, useClient } from 'urql'
import { Failed } from '../../app/Fault'
import { AddDatumDocument, EditElementDocument, type VesselBriefQuery } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { parseQuantity } from '../../model/number'
import { NumberField, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './vessels.module.css'

type Element = NonNullable<VesselBriefQuery['vessel']>['elements'][number]

/** The mark that places are measured from, and where the boot-top ends: above it a place may be a dry one. */
export function MeasuredFrom({
  element,
  onClose,
  onDone,
}: {
  element: Element
  onClose: () => void
  onDone: () => void
}) {
  const client = useClient()
  const was = { mark: element.datum?.mark ?? '', line: text(element.datum?.offsetToPaintedWaterlineMm) }
  const [mark, setMark] = useState(was.mark)
  const [line, setLine] = useState(was.line)
  const [bootTop, setBootTop] = useState(text(element.bootTopMm))
  const [busy, setBusy] = useState(false)
  const [error, setError] = useState<CombinedError | null>(null)
  const [tried, setTried] = useState(false)
  const asMm = (typed: string) => (typed.trim() ? parseQuantity(typed, 0) : null)
  const wrong = (typed: string) => {
    const parsed = asMm(typed)
    return tried && parsed && !parsed.ok ? parsed.why : undefined
  }

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    const [offset, top] = [asMm(line), asMm(bootTop)]
    if ((offset && !offset.ok) || (top && !top.ok)) return
    setBusy(true)
    setError(null)
    try {
      if (mark.trim() && (mark.trim() !== was.mark || line !== was.line))
        await kept(
          client.mutation(AddDatumDocument, {
            input: {
              mutation: newId('mut'),
              id: newId('dtm'),
              element: element.id,
              mark: mark.trim(),
              offsetToPaintedWaterlineMm: offset?.ok ? offset.value : null,
            },
          }),
        )
      if (top?.ok && top.value !== element.bootTopMm)
        await kept(
          client.mutation(EditElementDocument, {
            input: { mutation: newId('mut'), id: element.id, version: element.version, bootTopMm: top.value },
          }),
        )
      onDone()
      onClose()
    } catch (fault) {
      setError(fault as CombinedError)
    } finally {
      setBusy(false)
    }
  }

  return (
    <Sheet title="Measured from" open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {error && <Failed error={error} />}
        <TextField
          label="The mark"
          placeholder="moulded line at the stern"
          value={mark}
          onChange={(event) => setMark(event.target.value)}
          help="Something that stays: a stem fitting, the sheer, a moulded line. Painted lines move. A new mark is a new version; places keep theirs."
        />
        <div className="fields">
          <NumberField
            label="Painted waterline from it"
            unit="mm"
            value={line}
            onChange={(event) => setLine(event.target.value)}
            error={wrong(line)}
          />
          <NumberField
            label="Top of the boot-top above it"
            unit="mm"
            value={bootTop}
            onChange={(event) => setBootTop(event.target.value)}
            error={wrong(bootTop)}
            help="Without it no dry place can be judged."
          />
        </div>
        <div>
          <button type="submit" className="act" disabled={busy}>
            Keep it
          </button>
        </div>
      </form>
    </Sheet>
  )
}

const text = (mm: number | null | undefined) => (mm == null ? '' : String(mm))

async function kept(sent: { toPromise: () => Promise<{ error?: CombinedError | undefined }> }) {
  const { error } = await sent.toPromise()
  if (error) throw error
}
