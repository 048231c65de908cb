import { type FormEvent, useState } from 'react'
import type { CombinedError } from 'urql'
import { Failed } from '../../app/Fault'
import { TextArea, TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { KeptTable } from './KeptTable'
import s from './privacy.module.css'

interface Props {
  /** What has to be typed, and what it is called. */
  typed: { label: string; is: string; field: string }
  rows?: Parameters<typeof KeptTable>[0]['rows']
  stops: readonly string[]
  backups: string
  says?: string
  fetching: boolean
  error: CombinedError | undefined
  /** Sends it; false where it was refused. */
  erase: (reason: string, typed: string) => Promise<void>
}

/** What will go, what stays and why; then a reason and a name typed by hand. It cannot be taken back. */
export function EraseForm({ typed, rows, stops, backups, says, fetching, error, erase }: Props) {
  const [reason, setReason] = useState('')
  const [name, setName] = useState('')
  const fault = error?.graphQLErrors[0]
  const at = (field: string) => (fault?.extensions?.field === field ? fault.message : undefined)
  async function send(event: FormEvent) {
    event.preventDefault()
    await erase(reason, name)
  }
  return (
    <form className={s.form} noValidate onSubmit={send}>
      {says && <p className="measure">{says}</p>}
      {rows && <KeptTable rows={rows} />}
      <p className="small note measure">{backups}</p>
      <p className="small note measure">
        What must be kept, and what must go, is for local law and counsel to say. This page does what you decide.
      </p>
      {stops.length > 0 ? (
        <Notice bad>
          {stops.map((text) => (
            <p key={text}>{text}</p>
          ))}
        </Notice>
      ) : (
        <>
          {error && !fault?.extensions?.field && <Failed error={error} />}
          <TextArea
            label="Why"
            value={reason}
            error={at('reason')}
            onChange={(event) => setReason(event.target.value)}
            help="It is kept with the day and your name. Leave names out of it."
          />
          <TextField
            label={typed.label}
            value={name}
            error={at(typed.field)}
            autoComplete="off"
            onChange={(event) => setName(event.target.value)}
            help={`Type ${typed.is}. What is erased does not come back.`}
          />
          <div>
            <button type="submit" className="act" disabled={fetching}>
              Erase
            </button>
          </div>
        </>
      )}
    </form>
  )
}
