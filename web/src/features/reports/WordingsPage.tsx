import { type FormEvent, useState } from 'react'
import { Link } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import {
  KeepWordingDocument,
  type WordingLineFragment,
  WordingLineFragmentDoc,
  WordingsPageDocument,
} from '../../graphql/gen/graphql'
import { longDay } from '../../model/dates'
import { newId } from '../../model/id'
import { jobKinds } from '../../model/kinds'
import { TextArea, TextField } from '../../ui/Field'
import { Invented } from '../../ui/Invented'
import { Empty } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import c from './composer.module.css'
import s from './report.module.css'

/** Kinds of survey that end in a report made here. */
const kinds = jobKinds.filter((kind) => !['tonnage', 'code', 'repeat kit'].includes(kind))

/** The practice's own wording of sections: proposed for its kinds of survey, every version kept. */
export default function WordingsPage() {
  const viewer = useViewer()
  const [{ data, error }, again] = useQuery({ query: WordingsPageDocument })
  const [open, setOpen] = useState<WordingLineFragment | 'new' | null>(null)
  const mayEdit = viewer?.roles.includes('principal') ?? false
  const list = read(WordingLineFragmentDoc, data?.wordings) ?? []
  const write = mayEdit && (
    <button type="button" className="act" onClick={() => setOpen('new')}>
      Write a wording
    </button>
  )
  return (
    <>
      <Running title="Wording of sections">what the practice proposes for a new report, in its own words</Running>
      <main id="main" className="page-body">
        <Answer data={data} error={error} again={again} lines={6}>
          {() =>
            list.length === 0 ? (
              <Empty title="No wording yet" ways={write || undefined}>
                <p>
                  A wording is a section in the practice’s own words, with placeholders such as {'{vessel}'}. A new
                  report begins with those of its kind. A principal writes them.
                </p>
              </Empty>
            ) : (
              <>
                <ul className={c.wordings}>
                  {list.map((wording) => (
                    <Line key={wording.id} wording={wording} onEdit={mayEdit ? () => setOpen(wording) : undefined} />
                  ))}
                </ul>
                {write && <p style={{ marginTop: 16 }}>{write}</p>}
              </>
            )
          }
        </Answer>
        <p className="small" style={{ marginTop: 16 }}>
          <Link to="/settings">Back to the settings</Link>
        </p>
        {open && (
          <Edit
            wording={open === 'new' ? null : open}
            last={Math.max(0, ...list.map(({ position }) => position))}
            onClose={() => setOpen(null)}
          />
        )}
        <Invented show={data?.viewer.practice.invented} />
      </main>
    </>
  )
}

function Line({ wording, onEdit }: { wording: WordingLineFragment; onEdit: (() => void) | undefined }) {
  return (
    <li className={wording.retired ? c.out : undefined}>
      <h2>{wording.title}</h2>
      <p className="small note">
        {wording.retired
          ? 'proposed no more'
          : wording.kinds.length === 0
            ? 'for every kind of survey'
            : `for ${wording.kinds.join(', ')}`}
      </p>
      <p className={c.body}>{wording.body}</p>
      <details className="small">
        <summary>version {wording.version}, and those before it</summary>
        <ul className="plain-list">
          {wording.versions.map(({ version, title, body, byName, at }) => (
            <li key={version}>
              <b>
                {version}. {title}
              </b>{' '}
              <span className="note">
                {byName}, {longDay(at)}
              </span>
              <p className={c.body}>{body}</p>
            </li>
          ))}
        </ul>
      </details>
      {onEdit && (
        <button type="button" className="quiet" onClick={onEdit}>
          change it<span className="sr"> {wording.title}</span>
        </button>
      )}
    </li>
  )
}

function Edit({ wording, last, onClose }: { wording: WordingLineFragment | null; last: number; onClose: () => void }) {
  const [id] = useState(() => wording?.id ?? newId('wrd'))
  const [title, setTitle] = useState(wording?.title ?? '')
  const [body, setBody] = useState(wording?.body ?? '')
  const [chosen, setChosen] = useState<readonly string[]>(wording?.kinds ?? [])
  const [retired, setRetired] = useState(wording?.retired ?? false)
  const [{ fetching, error }, keep] = useMutation(KeepWordingDocument)
  const fault = error?.graphQLErrors[0]
  const at = (field: string) => (fault?.extensions?.field === field ? fault.message : undefined)
  async function send(event: FormEvent) {
    event.preventDefault()
    const { data } = await keep({
      input: {
        mutation: newId('mut'),
        id,
        version: wording?.version ?? 0,
        kinds: [...chosen],
        title: title.trim(),
        body,
        position: wording?.position ?? last + 1,
        retired,
      },
    })
    if (data) onClose()
  }
  return (
    <Sheet title={wording ? 'Change a wording' : 'A new wording'} wide open onClose={onClose}>
      <form className={s.compose} noValidate onSubmit={send}>
        {error && !fault?.extensions?.field && <Failed error={error} />}
        <TextField
          label="Heading"
          value={title}
          error={at('title')}
          onChange={(event) => setTitle(event.target.value)}
        />
        <TextArea
          label="Text"
          rows={8}
          spellCheck
          value={body}
          error={at('body')}
          onChange={(event) => setBody(event.target.value)}
          help="Placeholders: {vessel} {hull number} {client} {client as} {date} {yard} {days ashore} {instrument} {surveyor} {practice} {job} {kind}. Where nothing is kept for one, the draft says so, and is not issued."
        />
        <fieldset className={c.kinds}>
          <legend>Proposed for; none ticked: every kind</legend>
          {kinds.map((kind) => (
            <Tick
              key={kind}
              checked={chosen.includes(kind)}
              onChange={(on) => setChosen((now) => (on ? [...now, kind] : now.filter((one) => one !== kind)))}
            >
              {kind}
            </Tick>
          ))}
        </fieldset>
        {wording && (
          <Tick checked={retired} onChange={setRetired}>
            Propose it no more
          </Tick>
        )}
        <div className="buttons">
          <button type="submit" className="act" disabled={fetching || !title.trim()}>
            Keep it
          </button>
        </div>
      </form>
    </Sheet>
  )
}
