import { type ReactNode, useId, useState } from 'react'
import { useQuery } from 'urql'
import { KnownBoatsDocument, KnownPeopleDocument } from '../../graphql/gen/graphql'
import { TextField } from '../../ui/Field'
import s from './engagements.module.css'

/** What was typed, and the one known to the practice that was meant, if any. */
export interface Named {
  text: string
  known: { id: string; name: string } | null
}

export const unnamed: Named = { text: '', known: null }

interface Found {
  id: string
  name: string
  note: string
}

interface Props {
  label: string
  value: Named
  onChange: (value: Named) => void
  help?: ReactNode
  error?: string | undefined
  placeholder?: string
}

/** Fewer letters find half the book. */
const least = 2

/** Whoever asks: typed as said, with those of that name whom the practice knows. */
export function KnownPerson(props: Props) {
  const search = props.value.text.trim()
  const [{ data }] = useQuery({
    query: KnownPeopleDocument,
    variables: { search },
    pause: search.length < least || props.value.known !== null,
  })
  const found = (data?.parties.edges ?? []).map(({ node }) => ({ id: node.id, name: node.name, note: node.email }))
  return <Known {...props} found={search.length < least ? [] : found} />
}

/** A boat as she is called, with those of that name whom the practice has seen. */
export function KnownBoat(props: Props) {
  const search = props.value.text.trim()
  const [{ data }] = useQuery({
    query: KnownBoatsDocument,
    variables: { search },
    pause: search.length < least || props.value.known !== null,
  })
  const found = (data?.vessels.edges ?? []).map(({ node }) => ({ id: node.id, name: node.name, note: node.kind }))
  return <Known {...props} found={search.length < least ? [] : found} />
}

function Known({ label, value, onChange, help, error, placeholder, found }: Props & { found: Found[] }) {
  const id = useId()
  const [asked, setAsked] = useState(true)
  if (value.known)
    return (
      <div className="field">
        <span className="label">{label}</span>
        <p className={s.known}>
          <b>{value.known.name}</b> <span className="note">known to the practice</span>
          <button
            type="button"
            className="quiet push"
            onClick={() => {
              setAsked(false)
              onChange({ ...value, known: null })
            }}
          >
            Somebody or something else<span className="sr">: {label}</span>
          </button>
        </p>
      </div>
    )
  return (
    <div>
      <TextField
        label={label}
        value={value.text}
        error={error}
        autoComplete="off"
        placeholder={placeholder}
        help={help}
        onChange={(event) => {
          setAsked(true)
          onChange({ text: event.target.value, known: null })
        }}
      />
      {asked && found.length > 0 && (
        <ul className={s.found} aria-labelledby={id}>
          <li className="small note" id={id}>
            Known to the practice, is it one of these?
          </li>
          {found.map((one) => (
            <li key={one.id}>
              <button
                type="button"
                className={s.pick}
                onClick={() => onChange({ ...value, known: { id: one.id, name: one.name } })}
              >
                <b>{one.name}</b>
                {one.note && <span className="note small"> · {one.note}</span>}
              </button>
            </li>
          ))}
        </ul>
      )}
    </div>
  )
}
