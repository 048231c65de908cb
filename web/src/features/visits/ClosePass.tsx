import { useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { type FragmentType, read } from '../../graphql/gen'
import { ClosePassDocument, PassHeadFragmentDoc } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { plural } from '../../model/words'
import { Sheet } from '../../ui/Sheet'

/** The surveyor is done: after this the pass is compared, and what it lacks stays said with it. */
export function ClosePass({ pass, unsent }: { pass: FragmentType<typeof PassHeadFragmentDoc>; unsent: number }) {
  const head = read(PassHeadFragmentDoc, pass)
  const [open, setOpen] = useState(false)
  const [{ fetching, error }, close] = useMutation(ClosePassDocument)
  return (
    <>
      <button type="button" className="plain" onClick={() => setOpen(true)}>
        Close the pass
      </button>
      <Sheet title="Close the pass" open={open} onClose={() => setOpen(false)}>
        <p>
          Closing ends this going-over: its baseline is taken as final and it is set beside earlier passes. Readings can
          still be corrected afterwards, each with a reason.
        </p>
        {unsent > 0 && (
          <p style={{ marginTop: 12, color: 'var(--warn)' }}>
            <b>{plural(unsent, 'place')} typed here and not sent.</b> Send them first, or they stay out of the pass.
          </p>
        )}
        {head.missing.length > 0 && (
          <>
            <p style={{ marginTop: 12 }}>What it lacks stays said with it:</p>
            <ul>
              {head.missing.map(({ code, text }) => (
                <li key={code}>{text}</li>
              ))}
            </ul>
          </>
        )}
        {error && <Failed error={error} />}
        <div className="buttons" style={{ marginTop: 16 }}>
          <button
            type="button"
            className="act"
            disabled={fetching || unsent > 0}
            onClick={async () => {
              const { data } = await close({
                input: { mutation: newId('mut'), id: head.id, version: head.version, at: new Date().toISOString() },
              })
              if (data) setOpen(false)
            }}
          >
            Close it
          </button>
          <button type="button" className="plain" onClick={() => setOpen(false)}>
            Not yet
          </button>
        </div>
      </Sheet>
    </>
  )
}
