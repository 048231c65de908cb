import { type FormEvent, useEffect, useRef, useState } from 'react'
import { type CombinedError, useClient, useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { read } from '../../graphql/gen'
import {
  AnswerTaskDocument,
  type ClientAnswerKind,
  type ClientSaysFragment,
  ClientSaysFragmentDoc,
  PermitSharingDocument,
  WithdrawSharingDocument,
  WriteToPracticeDocument,
} from '../../graphql/gen/graphql'
import { sayLost } from '../../graphql/upload'
import { longDay, shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { Choice } from '../../ui/Choice'
import { TextArea, TextField } from '../../ui/Field'
import { Grade, Sure } from '../../ui/Grade'
import { Sheet } from '../../ui/Sheet'
import { clientPhoto } from './clientPhoto'
import { AskCode, useProof } from './proof'
import s from './shared.module.css'

export type Says = Omit<ClientSaysFragment, ' $fragmentName'>
type Task = Says['tasks'][number]

interface Side {
  says: Says
  onSaid: (says: Says) => void
}

const buttons = [
  { value: 'agreed', name: 'Agree' },
  { value: 'declined', name: 'Decline' },
  { value: 'claimedDone', name: 'It is done' },
] as const

const said: Record<ClientAnswerKind, string> = {
  agreed: 'You agreed',
  declined: 'You declined',
  claimedDone: 'You said that it is done',
}

/** What the service said of an input field, and what it said at large. */
function faultOf(error: CombinedError | undefined) {
  const fault = error?.graphQLErrors[0]
  const field = typeof fault?.extensions?.field === 'string' ? fault.extensions.field : ''
  return { of: (name: string) => (field === name ? fault?.message : undefined), field }
}

/** What was asked of the client, and the client’s own word to each. */
export function Tasks({ says, onSaid }: Side) {
  const [asking, setAsking] = useState<{ task: Task; answer: ClientAnswerKind } | null>(null)
  return (
    <>
      {says.tasks.map((task) => {
        const last = task.answers.at(-1)
        return (
          <article key={task.number} className={s.todo} aria-label={task.what}>
            <p className={s.grade}>
              <Grade grade={task.grade} />
              <span className="push">{task.byOn ? `by ${shortDay(task.byOn)}` : task.byAsWritten}</span>
            </p>
            <p>{task.what}</p>
            <p className="small note">
              {task.reason} <Sure word={task.sure} />
            </p>
            <div className={s.answer}>
              <Choice
                label={`Your answer: ${task.what}`}
                options={buttons}
                value={last?.answer ?? null}
                onChange={(answer) => setAsking({ task, answer })}
              />
            </div>
            {last && (
              <p className="small" role="status">
                {said[last.answer]}, {shortDay(last.at)}
                <Came answer={last} />.{last.reason && ` ${last.reason}`}
              </p>
            )}
            {last?.answer === 'claimedDone' && (
              <p>
                <button
                  type="button"
                  className="quiet"
                  aria-label={`Add a photo or an invoice: ${task.what}`}
                  onClick={() => setAsking({ task, answer: 'claimedDone' })}
                >
                  Add a photo or an invoice
                </button>
              </p>
            )}
          </article>
        )
      })}
      {asking && (
        <Answering
          key={`${asking.task.number}/${asking.answer}`}
          {...asking}
          report={says.key}
          onClose={() => setAsking(null)}
          onSaid={(next) => {
            setAsking(null)
            onSaid(next)
          }}
        />
      )}
    </>
  )
}

/** What went with an answer, to be opened again by who sent it. */
function Came({ answer }: { answer: Task['answers'][number] }) {
  if (!answer.photo) return null
  if (answer.photo === 'refused') return <>; the {answer.sent} could not be read</>
  const words = answer.sent === 'invoice' ? 'an invoice' : 'a photo'
  return (
    <>
      ; with{' '}
      {answer.file ? (
        <a href={answer.file} target="_blank" rel="noreferrer">
          {words}
        </a>
      ) : (
        words
      )}
    </>
  )
}

const titles: Record<ClientAnswerKind, string> = {
  agreed: 'You agree',
  declined: 'You decline',
  claimedDone: 'It is done',
}

function Answering({
  task,
  answer,
  report,
  onClose,
  onSaid,
}: {
  task: Task
  answer: ClientAnswerKind
  report: string
  onClose: () => void
  onSaid: (says: Says) => void
}) {
  const proof = useProof()
  const client = useClient()
  const [reason, setReason] = useState('')
  const [photo, setPhoto] = useState<File | null>(null)
  const [busy, setBusy] = useState(false)
  const [lost, setLost] = useState('')
  const [wrong, setWrong] = useState<{ reason?: string; code?: string }>({})
  const [{ error }, send] = useMutation(AnswerTaskDocument)
  // One id for one answer: sent again after a lost reply, it is the same.
  const [mutation] = useState(() => newId('mut'))
  const fault = faultOf(error)

  async function submit(event: FormEvent) {
    event.preventDefault()
    const faults = {
      ...(answer === 'declined' && !reason.trim() ? { reason: 'Say why.' } : {}),
      ...(proof.byLink && !proof.code.trim() ? { code: 'Type the code from the letter.' } : {}),
    }
    setWrong(faults)
    if (faults.reason || faults.code) return
    setBusy(true)
    setLost('')
    try {
      const upload = photo ? await clientPhoto(client, photo, { report, code: proof.code.trim() }) : null
      const { data } = await send({
        input: { mutation, report, code: proof.code.trim(), task: task.number, answer, reason: reason.trim(), upload },
      })
      if (!data) return
      proof.setTaken(true)
      onSaid(read(ClientSaysFragmentDoc, data.answerTask.report))
    } catch (fault) {
      setLost(sayLost(fault))
    } finally {
      setBusy(false)
    }
  }

  return (
    <Sheet title={titles[answer]} open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={submit}>
        <p>{task.what}</p>
        {error && !fault.field && <Failed error={error} />}
        {lost && (
          <p className="error" role="alert">
            {lost}
          </p>
        )}
        <TextArea
          label={answer === 'declined' ? 'Why' : 'Anything to add'}
          value={reason}
          maxLength={2000}
          error={wrong.reason ?? fault.of('reason')}
          onChange={(event) => setReason(event.target.value)}
        />
        {answer === 'claimedDone' && (
          <p>
            <label className="plain">
              {photo ? photo.name : 'Add a photo or an invoice'}
              <input
                type="file"
                accept="image/jpeg,image/png,image/webp,application/pdf"
                className="sr"
                onChange={(event) => setPhoto(event.target.files?.[0] ?? null)}
              />
            </label>
            <span className={`small note ${s.below}`}>
              An invoice as a PDF, 25 MB at most. Of a photo, where and with what it was taken is left out of what is
              shown.
            </span>
          </p>
        )}
        <AskCode error={wrong.code ?? fault.of('code')} />
        <p className="small note">
          {answer === 'claimedDone'
            ? 'This is your word. The practice notes it as such; it is seen done when one of its people has seen it.'
            : 'This is your word to the practice. It binds nobody else, and you may answer again.'}
        </p>
        <div>
          <button type="submit" className="act" disabled={busy}>
            {busy ? 'Sending' : 'Send the answer'}
          </button>
        </div>
      </form>
    </Sheet>
  )
}

/** What was written to the practice about this report, and a place to write. */
export function Messages({ says, onSaid }: Side) {
  const proof = useProof()
  const [open, setOpen] = useState(false)
  const [text, setText] = useState('')
  const [wrong, setWrong] = useState<{ text?: string; code?: string }>({})
  const [{ data, error, fetching }, send] = useMutation(WriteToPracticeDocument)
  const fault = faultOf(error)
  const again = useRef<HTMLButtonElement>(null)
  const [sent, setSent] = useState(0)
  useEffect(() => {
    // The form that was sent is gone: who goes on by keyboard goes on from here.
    if (sent > 0) again.current?.focus()
  }, [sent])
  async function submit(event: FormEvent) {
    event.preventDefault()
    const faults = {
      ...(text.trim() ? {} : { text: 'Write something.' }),
      ...(proof.byLink && !proof.code.trim() ? { code: 'Type the code from the letter.' } : {}),
    }
    setWrong(faults)
    if (faults.text || faults.code) return
    // Words that were changed after a lost answer are another message; the same words keep their id (sendAgain).
    const { data } = await send({
      input: { mutation: newId('mut'), report: says.key, code: proof.code.trim(), text: text.trim() },
    })
    if (!data) return
    proof.setTaken(true)
    setText('')
    setOpen(false)
    onSaid(read(ClientSaysFragmentDoc, data.writeToPractice.report))
    setSent((n) => n + 1)
  }
  return (
    <>
      <h2>Write to the practice</h2>
      {says.messages.length > 0 && (
        <ul className={s.others}>
          {says.messages.map((message) => (
            <li key={`${message.at}/${message.text}`}>
              {message.text} <span className="small note">you, {shortDay(message.at)}</span>
            </li>
          ))}
        </ul>
      )}
      {open ? (
        <form className={s.form} noValidate onSubmit={submit}>
          {error && !fault.field && <Failed error={error} />}
          <TextArea
            label="Your message"
            value={text}
            maxLength={5000}
            error={wrong.text ?? fault.of('text')}
            onChange={(event) => setText(event.target.value)}
          />
          <AskCode error={wrong.code ?? fault.of('code')} />
          <div className="buttons">
            <button type="submit" className="act" disabled={fetching}>
              Send the message
            </button>
            <button type="button" className="plain" onClick={() => setOpen(false)}>
              Not now
            </button>
          </div>
        </form>
      ) : (
        <p>
          <button type="button" className="plain" ref={again} onClick={() => setOpen(true)}>
            {says.messages.length > 0 ? 'Write another message' : 'Write a message'}
          </button>
          <span className={`small note ${s.below}`} role="status">
            {data ? 'It was sent. ' : ''}The surveyor gets it by mail and answers you there.
          </span>
        </p>
      )}
    </>
  )
}

/** Leave that the client of the report gave to share it, and its withdrawal. The practice makes the link. */
export function Permits({ says, onSaid }: Side) {
  const proof = useProof()
  const [doing, setDoing] = useState<'give' | Says['permits'][number] | null>(null)
  if (!says.yours) return null
  return (
    <section>
      <h2>Who else may read it</h2>
      {says.permits.length > 0 && (
        <ul className={s.others}>
          {says.permits.map((permit) => (
            <li key={permit.number} className={s.permit}>
              <span>
                <b>{permit.name}</b>, {permit.email}
                {permit.purpose && `, ${permit.purpose}`}
                <span className="small note" style={{ display: 'block' }}>
                  {permit.withdrawnAt
                    ? `leave taken back ${longDay(permit.withdrawnAt)}`
                    : `leave given ${longDay(permit.givenAt)}; the practice makes the link`}
                </span>
              </span>
              {!permit.withdrawnAt && (
                <button
                  type="button"
                  className="quiet push"
                  aria-label={`Take back the leave for ${permit.name}`}
                  onClick={() => setDoing(permit)}
                >
                  Take back
                </button>
              )}
            </li>
          ))}
        </ul>
      )}
      <p>
        <button type="button" className="plain" onClick={() => setDoing('give')}>
          Let somebody else read it
        </button>
      </p>
      {doing === 'give' && <Give says={says} onSaid={onSaid} onClose={() => setDoing(null)} proof={proof} />}
      {doing && doing !== 'give' && (
        <TakeBack permit={doing} says={says} onSaid={onSaid} onClose={() => setDoing(null)} proof={proof} />
      )}
    </section>
  )
}

interface Doing extends Side {
  onClose: () => void
  proof: ReturnType<typeof useProof>
}

function Give({ says, onSaid, onClose, proof }: Doing) {
  const [to, setTo] = useState({ name: '', email: '', purpose: '' })
  const [{ error, fetching }, send] = useMutation(PermitSharingDocument)
  const [mutation] = useState(() => newId('mut'))
  const fault = faultOf(error)
  const put = (field: keyof typeof to) => (event: { target: { value: string } }) =>
    setTo((now) => ({ ...now, [field]: event.target.value }))
  async function submit(event: FormEvent) {
    event.preventDefault()
    const { data } = await send({ input: { mutation, report: says.key, code: proof.code.trim(), ...to } })
    if (!data) return
    proof.setTaken(true)
    onClose()
    onSaid(read(ClientSaysFragmentDoc, data.permitSharing.report))
  }
  return (
    <Sheet title="Let somebody else read it" open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={submit}>
        {error && !fault.field && <Failed error={error} />}
        <TextField label="Name" value={to.name} onChange={put('name')} error={fault.of('name')} />
        <TextField label="E-mail" type="email" value={to.email} onChange={put('email')} error={fault.of('email')} />
        <TextField label="What for" value={to.purpose} onChange={put('purpose')} error={fault.of('purpose')} />
        <AskCode error={fault.of('code')} />
        <p className="small note">
          The practice is asked to send this person a link. Take the leave back, and that link ends; what was read until
          then was read.
        </p>
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Give leave
          </button>
        </div>
      </form>
    </Sheet>
  )
}

function TakeBack({ permit, says, onSaid, onClose, proof }: Doing & { permit: Says['permits'][number] }) {
  const [{ error, fetching }, send] = useMutation(WithdrawSharingDocument)
  const [mutation] = useState(() => newId('mut'))
  const fault = faultOf(error)
  async function submit(event: FormEvent) {
    event.preventDefault()
    const { data } = await send({
      input: { mutation, report: says.key, code: proof.code.trim(), number: permit.number },
    })
    if (!data) return
    proof.setTaken(true)
    onClose()
    onSaid(read(ClientSaysFragmentDoc, data.withdrawSharing.report))
  }
  return (
    <Sheet title="Take the leave back" open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={submit}>
        {error && !fault.field && <Failed error={error} />}
        <p>
          {permit.name}, {permit.email}: every link to this report that the address holds ends at once.
        </p>
        <AskCode error={fault.of('code')} />
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Take it back
          </button>
        </div>
      </form>
    </Sheet>
  )
}
