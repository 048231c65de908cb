import { type FormEvent, useState } from 'react'
import { Link } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import {
  EditReinspectionRulesDocument,
  ReinspectionRulesDocument,
  type RulesFragment,
  RulesFragmentDoc,
} from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { parseQuantity } from '../../model/number'
import { parseSpan, spanText, spanWords } from '../../model/windows'
import { plural } from '../../model/words'
import { NumberField, TextArea, TextField } from '../../ui/Field'
import { Invented } from '../../ui/Invented'
import { Notice } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Table } from '../../ui/Table'
import { Tick } from '../../ui/Tick'
import s from './reinspections.module.css'

/** When vessels are seen again: the habits of the trade with their tags, and the practice’s own in their places. */
export default function RulesPage() {
  const viewer = useViewer()
  const [{ data, error }, again] = useQuery({ query: ReinspectionRulesDocument })
  const [told, setTold] = useState('')
  return (
    <>
      <Running
        title="Rules of the next look"
        page="Rules"
        tabsLabel="Reinspections"
        tabs={[
          { to: '/reinspections', name: 'List' },
          { to: '/reinspections/rules', name: 'Rules' },
        ]}
      >
        each with where it comes from
      </Running>
      <main id="main" className="page-body">
        <Answer data={data} error={error} again={again} lines={12}>
          {(data) => {
            const settings = read(RulesFragmentDoc, data.reinspectionSettings)
            return (
              <Rules
                key={settings.version}
                settings={settings}
                mayEdit={viewer?.roles.includes('principal') ?? false}
                told={told}
                onTold={setTold}
              />
            )
          }}
        </Answer>
        <Invented show={viewer?.practice.invented} />
      </main>
    </>
  )
}

type Rule = RulesFragment['rules'][number]

const typed = (kind: string, windows: Rule['windows']) =>
  windows
    .map((span) =>
      spanText(kind === 'guarantee-end' ? { ...span, toMonths: span.fromMonths, toDays: span.fromDays } : span),
    )
    .join(', ')

/** The windows typed for a rule; null where one of them cannot be read. */
function spans(text: string) {
  const all = text
    .split(',')
    .filter((part) => part.trim())
    .map(parseSpan)
  return all.every((span) => span !== null) ? all : null
}

function Rules({
  settings,
  mayEdit,
  told,
  onTold: setTold,
}: {
  settings: RulesFragment
  mayEdit: boolean
  /** What came of keeping them; the form begins anew with each version. */
  told: string
  onTold: (told: string) => void
}) {
  const [texts, setTexts] = useState(() =>
    Object.fromEntries(settings.rules.map((rule) => [rule.kind, typed(rule.kind, rule.windows)])),
  )
  const [monthly, setMonthly] = useState(settings.recallMonthly)
  const [ahead, setAhead] = useState(String(settings.recallAheadDays))
  const [opening, setOpening] = useState(settings.recallOpening)
  const [closing, setClosing] = useState(settings.recallClosing)
  const [reason, setReason] = useState('')
  const [{ fetching, error }, edit] = useMutation(EditReinspectionRulesDocument)
  const bad = settings.rules.filter(({ kind }) => spans(texts[kind] ?? '') === null)
  const days = parseQuantity(ahead, 0)

  async function send(event: FormEvent) {
    event.preventDefault()
    if (bad.length || !days.ok) return setTold('Nothing is kept yet: put right what is marked.')
    const rules = settings.rules
      .filter((rule) => texts[rule.kind] !== typed(rule.kind, rule.windows))
      .map(({ kind, habit }) => {
        const windows = (spans(texts[kind] ?? '') ?? []).filter((span) => span !== null)
        const habitual = windows.map(spanText).join(', ') === typed(kind, habit)
        return { kind, windows: habitual ? [] : guaranteed(kind, windows) }
      })
    if (rules.length > 0 && !reason.trim()) return setTold('Nothing is kept yet: say why the windows change.')
    const { data } = await edit({
      input: {
        mutation: newId('mut'),
        version: settings.version,
        rules,
        recallMonthly: monthly,
        recallAheadDays: days.value,
        recallOpening: opening,
        recallClosing: closing,
        reason: reason.trim(),
      },
    })
    setTold(data ? 'Kept.' : '')
  }

  return (
    <form className={s.form} noValidate onSubmit={send} onChange={() => setTold('')} style={{ paddingTop: 16 }}>
      {!mayEdit && (
        <Notice>Only a principal changes these. They are here so that you know where a window comes from.</Notice>
      )}
      <p className="measure note">
        Windows count from the visit; that of a guarantee counts back from its end. Write 6-12 m for months, 7-14 d for
        days, several with commas. An empty field takes the habit again. They are habits and no forecast: a surveyor who
        knows better states a date in the report, and that date counts.
      </p>
      <Table
        caption="Rules of the next look"
        hideCaption
        className={`folds ${s.rules}`}
        columns={[
          { head: 'after', names: true, cell: (rule) => rule.words },
          {
            head: 'seen again',
            cell: (rule) => (
              <input
                aria-label={`${rule.words}: seen again after`}
                value={texts[rule.kind] ?? ''}
                disabled={!mayEdit}
                {...(bad.includes(rule) ? { 'aria-invalid': true as const } : {})}
                onChange={(event) => setTexts((now) => ({ ...now, [rule.kind]: event.target.value }))}
              />
            ),
          },
          {
            head: 'habit',
            cell: (rule) => (
              <>
                {rule.habit.map((span) => spanWords(span, rule.kind === 'guarantee-end')).join('; ')}
                <span className="small note" style={{ display: 'block' }}>
                  {rule.habitTag}
                </span>
              </>
            ),
          },
          { head: 'stands', cell: (rule) => (rule.own ? 'the practice’s own' : 'the habit') },
        ]}
        rows={settings.rules}
        id={(rule) => rule.kind}
      />
      {mayEdit && settings.rules.some(({ kind, windows }) => texts[kind] !== typed(kind, windows)) && (
        <TextField
          label="Why the windows change"
          value={reason}
          onChange={(event) => setReason(event.target.value)}
          help="It stays with them, with your name. Looks that were proposed already keep their windows."
          autoComplete="off"
        />
      )}
      {settings.changes.length > 0 && (
        <details>
          <summary>What they were changed to, {settings.changes.length}</summary>
          <ol className="plain-list small">
            {settings.changes.map((change) => (
              <li key={change.rule + change.at}>
                {shortDay(change.at)}
                {change.by && `, ${change.by}`}: {change.rule}, {change.words || 'the habit again'}. {change.reason}
              </li>
            ))}
          </ol>
        </details>
      )}
      <dl className="facts">
        <dt>a hull counts as older from</dt>
        <dd>
          {settings.olderFrom} years <span className="note">({settings.olderFromTag})</span>
        </dd>
        <dt>as many days ashore as last time, more or less</dt>
        <dd>
          {plural(settings.ashoreHundredths / 10, 'day')} in ten <span className="note">({settings.ashoreTag})</span>
        </dd>
      </dl>
      <p className="small note">
        Both stand among the <Link to="/settings/figures">figures of the diary</Link>.
      </p>
      <fieldset disabled={!mayEdit} className={`${s.form} ${s.letters} measure`}>
        <legend>
          <h2>Recall letters</h2>
        </legend>
        <Tick checked={monthly} onChange={setMonthly}>
          Let them go by themselves once a month. Else the office looks each one through.
        </Tick>
        <NumberField
          label="How long before a window opens"
          unit="days"
          value={ahead}
          onChange={(event) => setAhead(event.target.value)}
          error={days.ok ? undefined : days.why}
        />
        <TextArea
          label="How a letter begins"
          value={opening}
          onChange={(event) => setOpening(event.target.value)}
          help="Empty: the service’s own sentence. The reasons follow it."
        />
        <TextArea label="How it ends" value={closing} onChange={(event) => setClosing(event.target.value)} />
      </fieldset>
      {error && <Failed error={error} />}
      <div className="buttons">
        <button type="submit" className="act" disabled={!mayEdit || fetching}>
          Keep the rules
        </button>
        {told && <span role="status">{told}</span>}
      </div>
    </form>
  )
}

/** A guarantee's window runs to its very end: "3 m" is from three months before. */
function guaranteed(kind: string, windows: ReturnType<typeof parseSpan>[]) {
  return windows.flatMap((span) =>
    span ? [kind === 'guarantee-end' ? { ...span, toMonths: 0, toDays: 0 } : span] : [],
  )
}
