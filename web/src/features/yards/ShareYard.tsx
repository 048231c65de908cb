import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { RevokeYardLinkDocument, ShareYardDocument, type YardBodyFragment } from '../../graphql/gen/graphql'
import { dayIn, dayNumber, dayOf, instantOf, shortDay, wholeDay } from '../../model/dates'
import { newId } from '../../model/id'
import { plural } from '../../model/words'
import { DateField } from '../../ui/DateField'
import { TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import s from './yards.module.css'

/** Links by which the yard sees its own slots and nothing else; each is sent once and can be ended. */
export function YardLinks({
  yard,
  may,
  zone,
  onDone,
}: {
  yard: YardBodyFragment
  may: boolean
  zone: string
  onDone: () => void
}) {
  const [open, setOpen] = useState(false)
  const [{ fetching, error }, revoke] = useMutation(RevokeYardLinkDocument)
  return (
    <section>
      <h2>Shown by link</h2>
      {yard.links.length === 0 ? (
        <p className="small note">
          Nobody at the yard has a link. It shows the slots here as they stand, and nothing else.
        </p>
      ) : (
        <ul className={`plain-list ${s.links}`}>
          {yard.links.map((link) => {
            const ended = link.revokedAt ?? (Date.parse(link.until) < Date.now() ? link.until : null)
            return (
              <li key={link.id}>
                <b>{link.name}</b> <span className="small note">{link.email}</span>
                <br />
                <span className="small note">
                  {ended ? `ended ${shortDay(dayIn(ended, zone))}` : `until ${shortDay(dayIn(link.until, zone))}`}
                  {link.openings > 0
                    ? `, opened ${plural(link.openings, 'time')}, last ${shortDay(dayIn(link.lastOpenedAt ?? link.createdAt, zone))}`
                    : ', never opened'}
                </span>
                {may && !ended && (
                  <button
                    type="button"
                    className="quiet"
                    style={{ display: 'block' }}
                    disabled={fetching}
                    aria-label={`End the link of ${link.name}`}
                    onClick={async () => {
                      const { data } = await revoke({ input: { mutation: newId('mut'), id: link.id } })
                      if (data) onDone()
                    }}
                  >
                    End it
                  </button>
                )}
              </li>
            )
          })}
        </ul>
      )}
      {error && <Failed error={error} />}
      {may && (
        <button type="button" className="plain" style={{ marginTop: 8 }} onClick={() => setOpen(true)}>
          Send a link
        </button>
      )}
      {open && <Share yard={yard} zone={zone} onClose={() => setOpen(false)} onDone={onDone} />}
    </section>
  )
}

function Share({
  yard,
  zone,
  onClose,
  onDone,
}: {
  yard: YardBodyFragment
  zone: string
  onClose: () => void
  onDone: () => void
}) {
  const [name, setName] = useState('')
  const [email, setEmail] = useState(yard.email)
  const [until, setUntil] = useState<string | null>(dayOf(dayNumber(dayIn(Date.now(), zone)) + 180))
  const [{ data, fetching, error }, share] = useMutation(ShareYardDocument)
  async function send(event: FormEvent) {
    event.preventDefault()
    if (!wholeDay(until)) return
    const { data } = await share({
      input: {
        mutation: newId('mut'),
        id: newId('yln'),
        yard: yard.yard.id,
        name: name.trim(),
        email: email.trim(),
        until: instantOf(until, '23:59', zone),
      },
    })
    if (data) onDone()
  }
  return (
    <Sheet title={`A link for ${yard.yard.name}`} open onClose={onClose}>
      {data ? (
        // The button that sent it is gone: the focus goes on to what came of it.
        <div className={s.form} tabIndex={-1} ref={(said) => said?.focus()}>
          <Notice>It is on its way by mail. It is shown here once, and cannot be read again afterwards:</Notice>
          <p style={{ overflowWrap: 'anywhere' }}>
            <a href={data.shareYard.link}>{data.shareYard.link}</a>
          </p>
        </div>
      ) : (
        <form className={s.form} noValidate onSubmit={send}>
          <p>
            It shows the yard’s own slots as they stand: boats, times, how held, what was told. No client, no job, no
            codes.
          </p>
          <TextField label="For whom" value={name} onChange={(event) => setName(event.target.value)} />
          <TextField label="E-mail" type="email" value={email} onChange={(event) => setEmail(event.target.value)} />
          <DateField label="Until" value={until} onChange={setUntil} />
          {error && <Failed error={error} />}
          <div>
            <button type="submit" className="act" disabled={fetching || !name.trim() || !until}>
              Send it
            </button>
          </div>
        </form>
      )}
    </Sheet>
  )
}
