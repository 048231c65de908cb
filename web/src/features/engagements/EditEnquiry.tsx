import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { EditEngagementDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { Sheet } from '../../ui/Sheet'
import { EnquiryForm, type Told } from './EnquiryForm'
import type { Enquiry } from './EnquiryPage'

/** What was told, put right or added to. */
export function EditEnquiry({ e }: { e: Enquiry }) {
  const [open, setOpen] = useState(false)
  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Change what is asked
      </button>
      <Sheet title="What is asked" open={open} onClose={() => setOpen(false)}>
        {open && <Form e={e} onDone={() => setOpen(false)} />}
      </Sheet>
    </>
  )
}

function toldOf(e: Enquiry): Told {
  return {
    who: { text: e.askedBy, known: e.client ?? null },
    contact: e.contact,
    forWhom: e.forWhom,
    boat: { text: e.boatAsWritten, known: e.vessel ? { id: e.vessel, name: e.vesselName } : null },
    because: e.askedBecause,
    kind: e.kind,
    scope: e.scope,
  }
}

function Form({ e, onDone }: { e: Enquiry; onDone: () => void }) {
  const [told, setTold] = useState(() => toldOf(e))
  const [{ fetching, error }, edit] = useMutation(EditEngagementDocument)
  const accepted = Boolean(e.termsAcceptedAt)
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await edit({
      input: {
        mutation: newId('mut'),
        id: e.id,
        version: e.version,
        client: told.who.known?.id ?? null,
        askedBy: told.who.text.trim() || told.who.known?.name || '',
        contact: told.contact.trim(),
        forWhom: told.forWhom.trim(),
        vessel: told.boat.known?.id ?? null,
        boatAsWritten: told.boat.text.trim(),
        askedBecause: told.because.trim(),
        kind: told.kind,
        scope: told.scope.trim(),
      },
    })
    if (data) onDone()
  }
  return (
    <form noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <EnquiryForm told={told} onChange={setTold} fixed={accepted} scoped>
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Write down
          </button>
        </div>
      </EnquiryForm>
    </form>
  )
}
