import { type FormEvent, useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import {
  EditFindingDocument,
  type FindingCardFragment,
  FindingFormsDocument,
  RecordFindingDocument,
} from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { findingKinds, sures } from '../../model/kinds'
import { parseMeasured, typedFrom } from '../../model/measured'
import { outlineOf, parseOutline, writeOutline } from '../../model/outline'
import { parsePlaces, placeName } from '../../model/places'
import { capital } from '../../model/words'
import { ChoiceField } from '../../ui/Choice'
import { SelectField, TextArea, TextField } from '../../ui/Field'
import { Waiting } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import { forgetTyped, useTyped } from '../../ui/useTyped'
import { DrawOutline } from './DrawOutline'
import s from './findings.module.css'
import { MeasuredFields } from './MeasuredFields'
import { usePlaces } from './usePlaces'
import { useUnasked } from './useUnasked'

interface Props {
  visit: string
  vessel: string
  /** Put right: this finding. */
  finding?: FindingCardFragment
  /** Looked at again: the earlier finding. */
  again?: FindingCardFragment
  /** Others of the visit, of which one may be the same spot from the other face. */
  others: readonly FindingCardFragment[]
  onClose: () => void
}

/** Something seen, heard, smelt or opened: how sure is kept apart from how urgent, which a recommendation says. */
export function FindingSheet(props: Props) {
  const title = props.finding ? 'Put a finding right' : props.again ? 'Looked at again' : 'A finding'
  const [{ data, error }, again] = useQuery({ query: FindingFormsDocument })
  const { places, elements, known, error: lost, again: look } = usePlaces(props.vessel, true)
  return (
    <Sheet title={title} open onClose={props.onClose}>
      {error && <Failed error={error} again={again} />}
      {lost && <Failed error={lost} again={look} />}
      {data && known ? (
        <Body {...props} forms={data.findingForms} places={places} figure={elements[0]?.figure} />
      ) : (
        !error && !lost && <Waiting />
      )}
    </Sheet>
  )
}

const own = 'own'

function Body({
  visit,
  finding,
  again,
  others,
  onClose,
  forms,
  places,
  figure,
}: Props & {
  forms: readonly Parameters<typeof MeasuredFields>[0]['form'][]
  places: Parameters<typeof parsePlaces>[1]
  figure: unknown
}) {
  const from = finding ?? again
  const typedAs = `finding/${finding ? `${finding.id}.${finding.version}` : `${visit}/${again?.id ?? ''}`}/`
  const [code, setCode] = useTyped(`${typedAs}code`, from ? from.form || own : '')
  const [kind, setKind] = useTyped(`${typedAs}kind`, from?.kind ?? '')
  const [sure, setSure] = useState((finding?.sure ?? 'seen') as (typeof sures)[number])
  const [at, setAt] = useTyped(`${typedAs}at`, (from?.places ?? []).map((place) => placeName(places, place)).join(', '))
  const [drawn, setDrawn] = useTyped(`${typedAs}drawn`, from ? writeOutline(outlineOf(from.side, from.outline)) : '')
  const [text, setText] = useTyped(`${typedAs}text`, finding?.text ?? '')
  const [look, setLook] = useState(finding?.lookAgain ?? false)
  const [other, setOther] = useState(finding?.otherFace ?? '')
  const [typed, setTyped] = useTyped<Record<string, string>>(`${typedAs}measured`, typedFrom(finding?.measured))
  const [wrong, setWrong] = useState<{ kind?: string; at?: string; drawn?: string; fields: Record<string, string> }>({
    fields: {},
  })
  const [recorded, record] = useMutation(RecordFindingDocument)
  const [edited, edit] = useMutation(EditFindingDocument)
  const form = forms.find((each) => each.code === code)
  const error = recorded.error ?? edited.error
  const { unasked, field } = useUnasked(recorded.error)

  async function send(event: FormEvent) {
    event.preventDefault()
    const found = parsePlaces(at, places)
    const outline = parseOutline(drawn)
    const { measured, wrong: fields } = form ? parseMeasured(form.fields, typed) : { measured: {}, wrong: {} }
    const faults = {
      ...(code && (form || kind.trim()) ? {} : { kind: 'Say what it is.' }),
      ...(found.ok ? {} : { at: found.why }),
      ...(outline.ok ? {} : { drawn: outline.why }),
      fields,
    }
    setWrong(faults)
    if (faults.kind || !found.ok || !outline.ok || Object.keys(fields).length > 0) return
    const said = {
      mutation: newId('mut'),
      form: form?.code ?? '',
      kind: form ? '' : kind.trim(),
      sure,
      text: text.trim(),
      places: found.ordinals,
      side: outline.value.side,
      outline: outline.value.corners,
      measured,
      lookAgain: look,
      otherFace: other || null,
    }
    const { data } = finding
      ? await edit({
          input: {
            ...said,
            id: finding.id,
            version: finding.version,
            element: finding.element ?? null,
            againOf: finding.againOf ?? null,
          },
        })
      : await record({ input: { ...said, id: newId('fnd'), visit, againOf: again?.id ?? null, unasked } })
    if (!data) return
    forgetTyped(typedAs)
    onClose()
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      {again && (
        <p className="note">
          Then: {capital(again.kind)}, {again.sure}. {again.text}
        </p>
      )}
      <SelectField
        label="What it is"
        value={code}
        error={wrong.kind}
        onChange={(event) => {
          setCode(event.target.value)
          setTyped({})
        }}
      >
        <option value="">choose</option>
        {forms.map((each) => (
          <option key={each.code} value={each.code}>
            {each.name}
          </option>
        ))}
        <option value={own}>something else, in your words</option>
      </SelectField>
      {code === own && (
        <>
          <TextField
            label="In a few words"
            list="finding-kinds"
            value={kind}
            onChange={(event) => setKind(event.target.value)}
            help="Seen, heard, smelt or opened. What it means is for the report."
          />
          <datalist id="finding-kinds">
            {findingKinds.map((each) => (
              <option key={each} value={each} />
            ))}
          </datalist>
        </>
      )}
      {form && (
        <MeasuredFields
          form={form}
          typed={typed}
          wrong={wrong.fields}
          onType={(name, value) => setTyped((now) => ({ ...now, [name]: value }))}
        />
      )}
      <ChoiceField
        label="How sure"
        value={sure}
        onChange={setSure}
        options={sures.map((value) => ({ value, name: capital(value) }))}
      />
      <TextField
        label="At places"
        value={at}
        onChange={(event) => setAt(event.target.value)}
        error={wrong.at}
        placeholder="port 13/3, 13/4"
        help="As they are labelled on the hull; none where it lies elsewhere."
      />
      <DrawOutline spec={figure} text={drawn} error={wrong.drawn} onChange={setDrawn} />
      <TextArea label="In your own words" value={text} onChange={(event) => setText(event.target.value)} />
      {others.length > 0 && (
        <SelectField
          label="The same spot from the other face"
          value={other}
          onChange={(event) => setOther(event.target.value)}
        >
          <option value="">none of these</option>
          {others.map((each) => (
            <option key={each.id} value={each.id}>
              {each.kind}
              {each.places[0] ? `, ${placeName(places, each.places[0])}` : ''}
            </option>
          ))}
        </SelectField>
      )}
      <Tick checked={look} onChange={setLook}>
        Look again here at the next survey
      </Tick>
      {field}
      <div>
        <button type="submit" className="act" disabled={recorded.fetching || edited.fetching}>
          {finding ? 'Keep' : 'Write down'}
        </button>
      </div>
    </form>
  )
}
