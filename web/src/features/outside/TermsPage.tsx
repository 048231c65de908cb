import { type FormEvent, useEffect, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { read } from '../../graphql/gen'
import {
  AcceptTermsDocument,
  type OfferFragment,
  OfferFragmentDoc,
  TermsOfferDocument,
} from '../../graphql/gen/graphql'
import { longDay } from '../../model/dates'
import { newId } from '../../model/id'
import { money } from '../../model/money'
import { TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Tick } from '../../ui/Tick'
import { QuoteTable } from '../engagements/QuoteTable'
import { Opened, Outside } from './Outside'
import s from './shared.module.css'

/** What a survey would be and cost, and the terms: read by link, accepted by a code that came with it. */
export default function TermsPage() {
  return (
    <Outside>
      <Terms />
    </Outside>
  )
}

function Terms() {
  const [{ data, error }, again] = useQuery({ query: TermsOfferDocument })
  const offer = data ? (data.termsOffer ? read(OfferFragmentDoc, data.termsOffer) : null) : undefined
  useEffect(() => {
    if (offer) document.title = `${offer.boat}, an offer by ${offer.practiceName}`
  }, [offer])
  return (
    <Opened data={offer} error={error} again={again} kind="An offer by link">
      {(offer) => <Offer offer={offer} again={() => again({ requestPolicy: 'network-only' })} />}
    </Opened>
  )
}

function Offer({ offer, again }: { offer: OfferFragment; again: () => void }) {
  const sum = (minor: number) => money(minor, offer.currency)
  return (
    <>
      <header className={s.cover}>
        <p className={s.kind}>
          {offer.practiceName}, for {offer.forName}
        </p>
        <h1>{offer.boat || 'A boat'}</h1>
        <p>{offer.kind}</p>
      </header>
      {offer.scope && <p>{offer.scope}</p>}
      <h2>What it costs</h2>
      <QuoteTable
        caption="What it costs"
        lines={offer.lines}
        currency={offer.currency}
        last={{ name: 'All together', amount: ['amount', offer.netMinor], tax: ['tax', offer.taxMinor] }}
      />
      <p>
        To pay: <b>{sum(offer.netMinor + offer.taxMinor)}</b>
      </p>
      <h2>{offer.termsName}</h2>
      {offer.termsBody.split('\n').map((line, k) => (
        <p key={k}>{line}</p>
      ))}
      <h2>{offer.acceptedAt ? 'Accepted' : 'Accept it'}</h2>
      {offer.acceptedAt ? (
        <Notice>
          Accepted by {offer.acceptedBy} on {longDay(offer.acceptedAt)}
          {offer.earlyStart ? ', who asked to begin before the time to withdraw is over' : ''}.
        </Notice>
      ) : (
        <Accept until={offer.openUntil} early={offer.earlyWording} onDone={again} />
      )}
      {offer.invented && <p className="small note">An invented practice, boat and people: a demonstration.</p>}
    </>
  )
}

function Accept({ until, early: wording, onDone }: { until: string; early: string; onDone: () => void }) {
  const [name, setName] = useState('')
  const [code, setCode] = useState('')
  const [early, setEarly] = useState(false)
  const [wrong, setWrong] = useState<{ name?: string; code?: string }>({})
  const [{ fetching, error }, accept] = useMutation(AcceptTermsDocument)
  // One id for one acceptance: sent again after a lost answer, it is the same.
  const [mutation] = useState(() => newId('mut'))

  async function send(event: FormEvent) {
    event.preventDefault()
    const faults = {
      ...(name.trim() ? {} : { name: 'Type your name.' }),
      ...(code.trim() ? {} : { code: 'Type the code from the letter.' }),
    }
    setWrong(faults)
    if (faults.name || faults.code) return
    const { data } = await accept({ input: { mutation, code: code.trim(), name: name.trim(), earlyStart: early } })
    if (data) onDone()
  }

  return (
    <form noValidate onSubmit={send} style={{ display: 'grid', gap: 'var(--s4)' }}>
      {error && <Failed error={error} />}
      <TextField
        label="Your name"
        autoComplete="name"
        value={name}
        error={wrong.name}
        onChange={(event) => setName(event.target.value)}
      />
      <TextField
        label="The code from the letter"
        autoComplete="one-time-code"
        spellCheck={false}
        value={code}
        error={wrong.code}
        onChange={(event) => setCode(event.target.value)}
      />
      {wording && (
        <Tick checked={early} onChange={setEarly}>
          {wording}
        </Tick>
      )}
      <p className="small note">Open until {longDay(until)}. Looking at this page accepts nothing.</p>
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Accept these terms
        </button>
      </div>
    </form>
  )
}
