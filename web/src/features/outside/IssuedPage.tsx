import { type ChangeEvent, useState } from 'react'
import { sha256 } from '../../graphql/upload'
import { longDay } from '../../model/dates'
import { sentence } from '../../model/words'
import { Notice } from '../../ui/Notice'
import { Cover } from '../sign-in/Cover'

/** What the service tells of issued bytes: graph/plain/authentic.go. */
interface Known {
  file: 'pdf' | 'page'
  number: string
  state: string
  issuedAt: string
  practiceName: string
  replacedBy?: string
  endedBecause?: string
  addendum?: number
  addenda: string[]
  invented: boolean
}

type State = { name: string } & (
  | { kind: 'looking' }
  | { kind: 'known'; known: Known }
  | { kind: 'stranger' }
  | { kind: 'fault'; text: string }
)

/** Anybody may ask whether a report is as it was issued. The file stays on the asker's machine. */
export default function IssuedPage() {
  const [state, setState] = useState<State | null>(null)

  async function look(event: ChangeEvent<HTMLInputElement>) {
    const file = event.target.files?.[0]
    event.target.value = ''
    if (!file) return
    const name = file.name
    setState({ kind: 'looking', name })
    try {
      const answer = await fetch(`/issued/${await sha256(await file.arrayBuffer())}`, {
        headers: { Accept: 'application/json' },
      })
      if (answer.ok) setState({ kind: 'known', name, known: (await answer.json()) as Known })
      else if (answer.status === 404) setState({ kind: 'stranger', name })
      else setState({ kind: 'fault', name, text: `The service answered ${answer.status}. Try again in a moment.` })
    } catch {
      setState({ kind: 'fault', name, text: 'The service cannot be reached. Check the connection and try again.' })
    }
  }

  return (
    <Cover title="Is it as issued?">
      <p>
        Choose a report’s PDF or page as it reached you. Its fingerprint is taken on this machine and compared with
        those kept at issue; the file itself is not sent.
      </p>
      <p style={{ marginTop: 16 }}>
        <label className="act">
          {state ? 'Choose another file' : 'Choose a file'}
          <input type="file" accept=".pdf,.html,application/pdf,text/html" className="sr" onChange={look} />
        </label>
      </p>
      <div role="status" style={{ marginTop: 16 }}>
        {state && <Answer state={state} />}
      </div>
    </Cover>
  )
}

function Answer({ state }: { state: State }) {
  switch (state.kind) {
    case 'looking':
      return <p className="note">Looking at {state.name}.</p>
    case 'fault':
      return <Notice bad>{state.text}</Notice>
    case 'stranger':
      return (
        <Notice bad>
          {state.name} is not a report as it was issued here. It may have been changed, printed anew or saved by another
          program since, or be a draft. Ask whoever sent it for the file as issued.
        </Notice>
      )
    case 'known':
      return <AsIssued name={state.name} known={state.known} />
  }
}

function AsIssued({ name, known }: { name: string; known: Known }) {
  const facts: [string, string][] = [
    ['report', known.number],
    ...(known.addendum ? [['this file', `addendum ${known.addendum} to it`] as [string, string]] : []),
    ['by', known.practiceName],
    ['issued', longDay(known.issuedAt)],
    [
      'since then',
      [
        ...known.addenda.map((at, k) => `addendum ${k + 1}, ${longDay(at)}`),
        known.replacedBy && `replaced by report ${known.replacedBy}`,
        known.state === 'withdrawn' && 'withdrawn',
      ]
        .filter(Boolean)
        .join('; ') || 'nothing added, not replaced, not withdrawn',
    ],
  ]
  return (
    <>
      <Notice>
        <b>{name}</b> is as it was issued, byte for byte.
      </Notice>
      {(known.replacedBy || known.state === 'withdrawn') && (
        <Notice bad>
          {known.replacedBy
            ? `Report ${known.replacedBy} has taken the place of this one.`
            : 'This report was withdrawn by the practice. Do not rely on it.'}{' '}
          {sentence(known.endedBecause)}
        </Notice>
      )}
      <dl className="facts" style={{ marginTop: 12 }}>
        {facts.map(([what, is]) => (
          <div key={what} style={{ display: 'contents' }}>
            <dt>{what}</dt>
            <dd>{is}</dd>
          </div>
        ))}
      </dl>
      <p className="small note" style={{ marginTop: 12 }}>
        This says that nobody changed the file, not that what it says still holds: a report is an opinion on the
        condition on the day.
      </p>
      {known.invented && <p className="small note">An invented practice: a demonstration.</p>}
    </>
  )
}
