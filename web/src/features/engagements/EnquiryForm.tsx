import type { ReactNode } from 'react'
import { askable } from '../../model/kinds'
import { SelectField, TextArea, TextField } from '../../ui/Field'
import s from './engagements.module.css'
import { KnownBoat, KnownPerson, type Named, unnamed } from './Known'

/** What a first call tells. */
export interface Told {
  who: Named
  contact: string
  forWhom: string
  boat: Named
  because: string
  kind: string
  scope: string
}

export const nothingTold: Told = {
  who: unnamed,
  contact: '',
  forWhom: '',
  boat: unnamed,
  because: '',
  kind: '',
  scope: '',
}

/** The fields of an enquiry, in the order in which a call tells them. Nothing but who asks is needed. */
export function EnquiryForm({
  told,
  onChange,
  noName,
  fixed,
  scoped,
  children,
}: {
  told: Told
  onChange: (told: Told) => void
  noName?: string | undefined
  /** Kind and scope were accepted and stay. */
  fixed?: boolean
  /** The scope is agreed after the call. */
  scoped?: boolean
  children: ReactNode
}) {
  const put = (field: 'contact' | 'forWhom' | 'because' | 'kind' | 'scope') => (event: { target: { value: string } }) =>
    onChange({ ...told, [field]: event.target.value })
  return (
    <div className={s.form}>
      <KnownPerson label="Who asks" value={told.who} onChange={(who) => onChange({ ...told, who })} error={noName} />
      <div className={s.pair}>
        <TextField
          label="How to reach them"
          value={told.contact}
          onChange={put('contact')}
          placeholder="telephone or mail"
        />
        <TextField
          label="For whom"
          value={told.forWhom}
          onChange={put('forWhom')}
          placeholder="the caller"
          help="Where the survey is for somebody else."
        />
      </div>
      <KnownBoat
        label="The boat, as they call her"
        value={told.boat}
        onChange={(boat) => onChange({ ...told, boat })}
        placeholder="not known yet"
      />
      <TextArea label="Why" rows={2} value={told.because} onChange={put('because')} />
      <SelectField
        label="Kind of survey"
        value={told.kind}
        onChange={put('kind')}
        disabled={fixed}
        help={
          fixed
            ? 'The client accepted this kind and scope.'
            : 'Tonnage and code are an authorised person’s: kept here, never made.'
        }
      >
        <option value="">not agreed yet</option>
        {askable.map((kind) => (
          <option key={kind}>{kind}</option>
        ))}
      </SelectField>
      {scoped && (
        <TextArea
          label="What is to be looked at"
          rows={2}
          value={told.scope}
          onChange={put('scope')}
          disabled={fixed}
          help="The offer says it in these words."
        />
      )}
      {children}
    </div>
  )
}
