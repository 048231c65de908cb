import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { useMay } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { SetValuationDocument, type SurveyBookBodyFragment } from '../../graphql/gen/graphql'
import { dayIn, longDay } from '../../model/dates'
import { newId } from '../../model/id'
import { minorOf, money, typed } from '../../model/money'
import { DateField } from '../../ui/DateField'
import { NumberField, TextArea, TextField } from '../../ui/Field'
import { forgetTyped, useTyped } from '../../ui/useTyped'
import s from './surveybook.module.css'

const zone = Intl.DateTimeFormat().resolvedOptions().timeZone

interface Like {
  name: string
  is: string
}

/** An opinion of value on a day, with its basis and what it was held against. */
export function Value({
  job,
  value,
  currency: own,
}: {
  job: string
  value: SurveyBookBodyFragment['valuation']
  currency: string
}) {
  const may = useMay('writeReport')
  const [writing, write] = useState(false)
  return (
    <section>
      <h2>Value</h2>
      {value ? (
        <>
          <p className={s.figure}>{money(value.figureMinor, value.currency)}</p>
          <p>
            {value.basis}, on {longDay(value.on)}. An opinion of value on that day.
          </p>
          {value.said && <p className="note">{value.said}</p>}
          {(value.comparables as Like[]).length > 0 && (
            <dl className="facts">
              {(value.comparables as Like[]).map(({ name, is }) => (
                <div key={name} style={{ display: 'contents' }}>
                  <dt>{name}</dt>
                  <dd>{is}</dd>
                </div>
              ))}
            </dl>
          )}
        </>
      ) : (
        <p className="small note">None. Write one where the job asks for it: figure, basis, day, comparables.</p>
      )}
      {may &&
        (writing ? (
          <Form job={job} value={value} own={own} onClose={() => write(false)} />
        ) : (
          <button type="button" className="plain" style={{ marginTop: 8 }} onClick={() => write(true)}>
            {value ? 'Change the value' : 'Write down a value'}
          </button>
        ))}
    </section>
  )
}

const lines = (text: string): Like[] =>
  text
    .split('\n')
    .map((line) => line.trim())
    .filter(Boolean)
    .map((line) => {
      const [name = '', ...is] = line.split(':')
      return { name: name.trim(), is: is.join(':').trim() }
    })

function Form({
  job,
  value,
  own,
  onClose,
}: {
  job: string
  value: SurveyBookBodyFragment['valuation']
  own: string
  onClose: () => void
}) {
  const typedAs = `value/${job}.${value?.version ?? 0}/`
  const [currency, setCurrency] = useTyped(`${typedAs}currency`, value?.currency ?? own)
  const [figure, setFigure] = useTyped(`${typedAs}figure`, value ? typed(value.figureMinor, value.currency) : '')
  const [basis, setBasis] = useTyped(`${typedAs}basis`, value?.basis ?? '')
  const [on, setOn] = useTyped<string | null>(`${typedAs}on`, value?.on ?? dayIn(Date.now(), zone))
  const [said, setSaid] = useTyped(`${typedAs}said`, value?.said ?? '')
  const [like, setLike] = useTyped(
    `${typedAs}like`,
    ((value?.comparables ?? []) as Like[]).map(({ name, is }) => `${name}: ${is}`).join('\n'),
  )
  const [wrong, setWrong] = useState<Partial<Record<'figure' | 'basis' | 'on' | 'currency' | 'like', string>>>({})
  const [{ fetching, error }, set] = useMutation(SetValuationDocument)

  async function send(event: FormEvent) {
    event.preventDefault()
    const code = currency.trim().toUpperCase()
    const known = /^[A-Z]{3}$/.test(code)
    const minor = known ? minorOf(figure, code) : null
    const bare = lines(like).find(({ is }) => !is)
    const faults = {
      ...(known ? {} : { currency: 'Three letters, such as EUR.' }),
      ...(minor?.ok && minor.value > 0 ? {} : { figure: 'A figure above nothing, as 18 500 or 18500.50.' }),
      ...(basis.trim() ? {} : { basis: 'Say between whom and how she lies.' }),
      ...(on ? {} : { on: 'On which day.' }),
      ...(bare ? { like: `“${bare.name}” lacks its price: put a colon, then what is known of it and when.` } : {}),
    }
    setWrong(faults)
    if (Object.keys(faults).length > 0 || !minor?.ok || !on) return
    const { data } = await set({
      input: {
        mutation: newId('mut'),
        job,
        version: value?.version ?? 0,
        figureMinor: minor.value,
        currency: code,
        basis: basis.trim(),
        on,
        said: said.trim(),
        comparables: lines(like),
      },
    })
    if (!data) return
    forgetTyped(typedAs)
    onClose()
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <div className={s.pair}>
        <NumberField label="Figure" value={figure} error={wrong.figure} onChange={(e) => setFigure(e.target.value)} />
        <TextField
          label="Currency"
          value={currency}
          error={wrong.currency}
          onChange={(e) => setCurrency(e.target.value)}
        />
      </div>
      <TextField
        label="Basis"
        placeholder="sale between willing parties, as she lies"
        value={basis}
        error={wrong.basis}
        onChange={(e) => setBasis(e.target.value)}
      />
      <DateField label="On" value={on} onChange={setOn} {...(wrong.on ? { error: wrong.on } : {})} />
      <TextArea
        label="Comparables"
        value={like}
        error={wrong.like}
        onChange={(e) => setLike(e.target.value)}
        help="One a line: which boat, a colon, what is known of her price and when."
      />
      <TextArea label="What stands behind it" value={said} onChange={(e) => setSaid(e.target.value)} />
      <div className="buttons">
        <button type="submit" className="act" disabled={fetching}>
          Keep
        </button>
        <button type="button" className="plain" onClick={onClose}>
          Not now
        </button>
      </div>
    </form>
  )
}
