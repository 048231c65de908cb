import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { useViewer } from '../../app/useViewer'
import { EndLayerDocument } from '../../graphql/gen/graphql'
import { dayIn, wholeDay } from '../../model/dates'
import { newId } from '../../model/id'
import { DateField } from '../../ui/DateField'
import { Sheet } from '../../ui/Sheet'
import s from './vessels.module.css'

/** A tank taken out, a coating taken off: from that day it explains nothing; what was said before stays. */
export function EndLayer({
  layer,
  onDone,
}: {
  layer: { id: string; what: string; version: number }
  onDone: () => void
}) {
  const [open, setOpen] = useState(false)
  const viewer = useViewer()
  const [on, setOn] = useState<string | null>(dayIn(Date.now(), viewer?.practice.timeZone ?? 'UTC'))
  const [{ fetching, error }, end] = useMutation(EndLayerDocument)
  async function send(event: FormEvent) {
    event.preventDefault()
    if (!wholeDay(on)) return
    const { data } = await end({ input: { mutation: newId('mut'), id: layer.id, version: layer.version, on } })
    if (!data) return
    setOpen(false)
    onDone()
  }
  return (
    <>
      <button type="button" className="quiet no-print" onClick={() => setOpen(true)}>
        Gone<span className="sr">: {layer.what}</span>
      </button>
      <Sheet title={`${layer.what}, gone`} open={open} onClose={() => setOpen(false)}>
        <form className={s.form} noValidate onSubmit={send}>
          {error && <Failed error={error} />}
          <DateField label="Since" value={on} onChange={setOn} help="Visits before that day keep it." />
          <div>
            <button type="submit" className="act" disabled={fetching || !wholeDay(on)}>
              Write it down
            </button>
          </div>
        </form>
      </Sheet>
    </>
  )
}
