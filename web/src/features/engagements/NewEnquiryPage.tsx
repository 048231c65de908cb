import { type FormEvent, useState } from 'react'
import { useNavigate } from 'react-router'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { useSearch } from '../../app/useSearch'
import { useViewer } from '../../app/useViewer'
import { AddEnquiryDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { optional, text } from '../../model/search'
import { Invented } from '../../ui/Invented'
import { Running } from '../../ui/Running'
import { forgetTyped, useTyped } from '../../ui/useTyped'
import { EnquiryForm, nothingTold } from './EnquiryForm'

/** The boat whose page it was begun on. */
const choices = { vessel: optional(), name: text() }

/** A call written down while it lasts: a minute, on a phone. */
export default function NewEnquiryPage() {
  const navigate = useNavigate()
  const viewer = useViewer()
  const [{ vessel, name }] = useSearch(choices)
  const [told, setTold] = useTyped(
    `enquiry/${vessel ?? ''}`,
    vessel ? { ...nothingTold, boat: { text: name, known: { id: vessel, name } } } : nothingTold,
  )
  const [noName, setNoName] = useState<string>()
  // One id for one call: sent again after a lost answer, it is the same.
  const [ids] = useState(() => ({ mutation: newId('mut'), id: newId('eng') }))
  const [{ fetching, error }, add] = useMutation(AddEnquiryDocument)

  async function send(event: FormEvent) {
    event.preventDefault()
    const unsaid = !told.who.known && !told.who.text.trim()
    setNoName(unsaid ? 'Say who asks.' : undefined)
    if (unsaid) return
    const { data } = await add({
      input: {
        ...ids,
        client: told.who.known?.id ?? null,
        askedBy: told.who.known ? told.who.known.name : told.who.text.trim(),
        contact: told.contact.trim(),
        forWhom: told.forWhom.trim(),
        vessel: told.boat.known?.id ?? null,
        boatAsWritten: told.boat.text.trim(),
        askedBecause: told.because.trim(),
        kind: told.kind,
        scope: told.scope.trim(),
      },
    })
    if (!data) return
    forgetTyped(`enquiry/${vessel ?? ''}`)
    navigate(`/engagements/${ids.id}`)
  }

  return (
    <>
      <Running title="A new enquiry">only who asks is needed; the rest can follow</Running>
      <main id="main" className="page-body">
        <form noValidate onSubmit={send} style={{ maxWidth: 640 }}>
          {error && <Failed error={error} />}
          <EnquiryForm told={told} onChange={setTold} noName={noName}>
            <div className="buttons">
              <button type="submit" className="act" disabled={fetching}>
                Keep the enquiry
              </button>
            </div>
          </EnquiryForm>
        </form>
        <Invented show={viewer?.practice.invented} />
      </main>
    </>
  )
}
