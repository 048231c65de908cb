import { type FormEvent, useState } from 'react'
import { Link } from 'react-router'
import { useMutation } from 'urql'
import { useMay } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { OfferTermsDocument } from '../../graphql/gen/graphql'
import { dayIn, dayNumber, dayOf, instantOf, longDay } from '../../model/dates'
import { newId } from '../../model/id'
import { DateField } from '../../ui/DateField'
import { SelectField, TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import type { Enquiry, TermsChoice } from './EnquiryPage'
import s from './engagements.module.css'

/** Scope, price and terms, sent with a link and a code; accepted by typing the code. */
export function Offer({ e, terms, zone }: { e: Enquiry; terms: readonly TermsChoice[]; zone: string }) {
  const may = useMay('book')
  const [sent, setSent] = useState<{ link: string; code: string } | null>(null)
  const ready = e.conflictDecision === 'go on' && !!e.quote?.length
  return (
    <section id="offer">
      <h2>Offer and terms</h2>
      {e.termsAcceptedAt ? (
        <p className="ruled">
          <b>Accepted</b> by {e.termsAcceptedBy}, {longDay(dayIn(e.termsAcceptedAt, zone))}, with the terms “
          {e.termsVersion}”{e.earlyStart && ', who asked to begin before the time to withdraw is over'}.
        </p>
      ) : e.stage === 'declined' || e.stage === 'closed' ? (
        <p className="note ruled">No terms were accepted.</p>
      ) : (
        <>
          {sent && <Sent {...sent} />}
          {!sent && e.offered && (
            <p className="ruled">
              <b>Sent</b> to {e.offered.to}, {longDay(dayIn(e.offered.at, zone))}; holds until{' '}
              {longDay(dayIn(e.offered.until, zone))}. Not yet accepted.
            </p>
          )}
          {!ready ? (
            <p className="note ruled">
              Once somebody has decided that nothing stands against it, and there is a quote, the offer can be sent.
            </p>
          ) : terms.length === 0 ? (
            <p className="ruled">
              The practice has no terms yet. <Link to="/settings">A principal writes them in the settings.</Link>
            </p>
          ) : (
            may && <Send e={e} terms={terms} zone={zone} onSent={setSent} />
          )}
        </>
      )}
    </section>
  )
}

function Sent({ link, code }: { link: string; code: string }) {
  const [copied, setCopied] = useState(false)
  return (
    <Notice
      ways={
        <button
          type="button"
          className="plain"
          onClick={() => navigator.clipboard.writeText(link).then(() => setCopied(true))}
        >
          {copied ? 'Copied' : 'Copy the link'}
        </button>
      }
    >
      <p>
        The offer is on its way. For a client on the telephone, the code is <b className={s.code}>{code}</b>. It is
        shown this once.
      </p>
      <TextField label="Link of the offer" readOnly value={link} />
    </Notice>
  )
}

/** How long an offer holds unless told otherwise, in days: the practice’s habit, no source. */
const holds = 21

function Send({
  e,
  terms,
  zone,
  onSent,
}: {
  e: Enquiry
  terms: readonly TermsChoice[]
  zone: string
  onSent: (sent: { link: string; code: string }) => void
}) {
  const [version, setVersion] = useState(terms[0]?.id ?? '')
  const [name, setName] = useState(e.client?.name ?? e.askedBy)
  const [email, setEmail] = useState(e.contact.includes('@') ? e.contact : '')
  const [until, setUntil] = useState<string | null>(() => dayOf(dayNumber(dayIn(Date.now(), zone)) + holds))
  const [{ fetching, error }, offer] = useMutation(OfferTermsDocument)
  const fault = error?.graphQLErrors[0]
  const at = (field: string) => (fault?.extensions?.field === field ? fault.message : undefined)
  const noUntil = at('until')
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await offer({
      input: {
        mutation: newId('mut'),
        id: newId('tln'),
        engagement: e.id,
        terms: version,
        name: name.trim(),
        email: email.trim(),
        until: instantOf(until ?? dayIn(Date.now(), zone), '23:59', zone),
      },
    })
    if (data) onSent({ link: data.offerTerms.link, code: data.offerTerms.code })
  }
  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && !fault?.extensions?.field && <Failed error={error} />}
      <div className="fields">
        <SelectField label="Terms" value={version} onChange={(event) => setVersion(event.target.value)}>
          {terms.map(({ id, name }) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </SelectField>
        <DateField label="Holds until" value={until} onChange={setUntil} {...(noUntil ? { error: noUntil } : {})} />
        <TextField label="To" value={name} error={at('name')} onChange={(event) => setName(event.target.value)} />
        <TextField
          label="E-mail"
          type="email"
          value={email}
          error={at('email')}
          onChange={(event) => setEmail(event.target.value)}
        />
      </div>
      <p className="small note">
        The client is shown the scope, the quote and the terms as they stand now, and accepts by typing the code of the
        letter. A later offer ends this one.
      </p>
      <div>
        <button type="submit" className={e.offered ? 'plain' : 'act'} disabled={fetching}>
          {e.offered ? 'Send it anew' : 'Send the offer'}
        </button>
      </div>
    </form>
  )
}
