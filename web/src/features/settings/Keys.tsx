import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { faults } from '../../app/faults'
import {
  ApiKeysDocument,
  type ApiKeysQuery,
  CreateApiKeyDocument,
  KeyMembersDocument,
  RevokeApiKeyDocument,
} from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { SelectField, TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import s from './settings.module.css'

type Key = ApiKeysQuery['apiKeys'][number]

/** The keys by which programs act for members: made, shown once, ended. */
export function Keys() {
  const [{ data, error }, again] = useQuery({ query: ApiKeysDocument })
  const [making, setMaking] = useState(false)
  const [ending, setEnding] = useState<Key | null>(null)
  const fresh = () => again({ requestPolicy: 'network-only' })
  return (
    <section className={s.keys}>
      <h2>Keys for programs</h2>
      <p className="small note">
        A program with a key does what its member may, in that member’s name: a logger in the shed, a script of the
        office’s own. One key a program, so that each can be ended by itself.
      </p>
      {error && <Failed error={error} />}
      {data?.apiKeys.length === 0 && <p className="small">No program acts for anybody here.</p>}
      {data && data.apiKeys.length > 0 && (
        <ul className="plain-list">
          {data.apiKeys.map((key) => (
            <li key={key.id}>
              <b>{key.name}</b>
              <span className="small note">
                acts for {key.member.name}, since {shortDay(key.createdAt)};{' '}
                {key.lastUsedOn ? `last used ${shortDay(key.lastUsedOn)}` : 'no use noted yet'}
                {key.revokedAt && `; ended ${shortDay(key.revokedAt)}`}
              </span>
              {!key.revokedAt && (
                <button type="button" className="quiet" onClick={() => setEnding(key)}>
                  End it<span className="sr">: {key.name}</span>
                </button>
              )}
            </li>
          ))}
        </ul>
      )}
      <div>
        <button type="button" className="plain" onClick={() => setMaking(true)}>
          Make a key
        </button>
      </div>
      {making && <Make onClose={() => setMaking(false)} onDone={fresh} />}
      {ending && <End of={ending} onClose={() => setEnding(null)} onDone={fresh} />}
    </section>
  )
}

function Make({ onClose, onDone }: { onClose: () => void; onDone: () => void }) {
  const [{ data: people }] = useQuery({ query: KeyMembersDocument })
  const [name, setName] = useState('')
  const [chosen, setChosen] = useState('')
  const [copied, setCopied] = useState(false)
  const [tried, setTried] = useState(false)
  const [{ data, fetching, error }, create] = useMutation(CreateApiKeyDocument)
  const { at, rest } = faults(error, 'name', 'member')
  const members = people?.members.edges.flatMap(({ node }) => (node.leftAt ? [] : [node])) ?? []
  const secret = data?.createApiKey.secret

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!name.trim() || !chosen) return
    const { data } = await create({
      input: { mutation: newId('mut'), id: newId('key'), member: chosen, name: name.trim() },
    })
    if (data) onDone()
  }

  return (
    <Sheet title="A key for a program" open onClose={onClose}>
      {data ? (
        <Notice
          inPlace
          ways={
            secret && (
              <button
                type="button"
                className="act"
                onClick={() => navigator.clipboard.writeText(secret).then(() => setCopied(true))}
              >
                {copied ? 'Copied' : 'Copy the key'}
              </button>
            )
          }
        >
          <p>Copy it now and give it to the program: it is shown this once, and cannot be read again.</p>
          <TextField label={`The key of ${data.createApiKey.apiKey.name}`} readOnly value={secret ?? ''} />
        </Notice>
      ) : (
        <form className={s.sheet} noValidate onSubmit={send}>
          {rest && <Failed error={rest} />}
          <TextField
            label="Program"
            placeholder="logger in the shed"
            value={name}
            onChange={(event) => setName(event.target.value)}
            error={tried && !name.trim() ? 'Say which program has it' : at('name')}
          />
          <SelectField
            label="Acts for"
            value={chosen}
            onChange={(event) => setChosen(event.target.value)}
            error={tried && !chosen ? 'Choose a member' : at('member')}
            help="It may what this member may, and what it writes bears the member’s name. It ends when the member leaves."
          >
            <option value="">choose</option>
            {members.map(({ id, name, roles }) => (
              <option key={id} value={id}>
                {name}, {roles.join(', ')}
              </option>
            ))}
          </SelectField>
          <div>
            <button type="submit" className="act" disabled={fetching}>
              Make the key
            </button>
          </div>
        </form>
      )}
    </Sheet>
  )
}

function End({ of: key, onClose, onDone }: { of: Key; onClose: () => void; onDone: () => void }) {
  const [{ fetching, error }, revoke] = useMutation(RevokeApiKeyDocument)
  return (
    <Sheet title={`End the key of ${key.name}`} open onClose={onClose}>
      <div className={s.sheet}>
        {error && <Failed error={error} />}
        <p>
          Whatever still uses it writes nothing from then on, and reads nothing after a minute. It cannot be begun
          again; another key can be made. What was written by it stays.
        </p>
        <div className="buttons">
          <button
            type="button"
            className="act"
            disabled={fetching}
            onClick={async () => {
              const { data } = await revoke({ input: { mutation: newId('mut'), id: key.id } })
              if (!data) return
              onDone()
              onClose()
            }}
          >
            End the key
          </button>
          <button type="button" className="plain" onClick={onClose}>
            Let it stand
          </button>
        </div>
      </div>
    </Sheet>
  )
}
