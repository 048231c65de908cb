import { type FormEvent, useState } from 'react'
import { Link } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { ValueSign } from '../../figure/marks'
import { EditPracticeDocument, SettingsPageDocument, type SettingsPageQuery } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { parseQuantity } from '../../model/number'
import { ChoiceField } from '../../ui/Choice'
import { NumberField, TextArea, TextField } from '../../ui/Field'
import { Invented } from '../../ui/Invented'
import { Notice } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Tick } from '../../ui/Tick'
import { setTheme, themeName, themes, useTheme } from '../../ui/theme'
import { ZoneField } from '../../ui/ZoneField'
import { ScheduleSettings } from '../surveybook/ScheduleSettings'
import { Feeds } from './Feeds'
import { Keys } from './Keys'
import s from './settings.module.css'
import { TermsSettings } from './TermsSettings'

type Practice = SettingsPageQuery['viewer']['practice']

/** The practice’s own rules, and how this page looks to you. */
export default function SettingsPage() {
  const [{ data, error }, again] = useQuery({ query: SettingsPageDocument })
  const [kept, setKept] = useState(false)
  return (
    <>
      <Running title="Settings">{data?.viewer.practice.name}</Running>
      <main id="main" className="two">
        <Answer data={data} error={error} again={again}>
          {(data) => (
            <>
              <div>
                <PracticeForm
                  key={data.viewer.practice.version}
                  practice={data.viewer.practice}
                  mayEdit={data.viewer.roles.includes('principal')}
                  kept={kept}
                  onKept={setKept}
                />
                <TermsSettings mayEdit={data.viewer.roles.includes('principal')} />
                <section>
                  <h2>What the diary proposes by</h2>
                  <p className="ruled">
                    How long she stands before the meter, after rain, between readings; each with where it comes from,
                    and the practice’s own in its place: <Link to="/settings/figures">figures of the diary</Link>.
                  </p>
                </section>
                <section>
                  <h2>When boats are seen again</h2>
                  <p className="ruled">
                    The windows of each rule, with where they come from, and how the practice recalls:{' '}
                    <Link to="/reinspections/rules">rules of the next look</Link>.
                  </p>
                </section>
                {data.viewer.roles.includes('principal') && (
                  <section>
                    <h2>How long files stay</h2>
                    <p className="ruled">
                      For how many years, by which law, what has passed its time and what went:{' '}
                      <Link to="/settings/retention">how long files stay</Link>.
                    </p>
                  </section>
                )}
                {data.viewer.roles.includes('principal') && <ScheduleSettings />}
              </div>
              <aside>
                <Yours />
                <Feeds />
                {data.viewer.roles.includes('principal') && <Keys />}
              </aside>
              <Invented show={data.viewer.practice.invented} />
            </>
          )}
        </Answer>
      </main>
    </>
  )
}

function Yours() {
  const [theme] = useTheme()
  return (
    <section>
      <h2>On this device</h2>
      <ChoiceField
        label="Light"
        value={theme}
        onChange={setTheme}
        options={themes.map((value) => ({ value, name: themeName[value] }))}
        help="High readings are dark blue in every light, so that a colour never changes its meaning."
      />
    </section>
  )
}

function PracticeForm({
  practice,
  mayEdit,
  kept,
  onKept,
}: {
  practice: Practice
  mayEdit: boolean
  /** What stands here is what was kept last; the form begins anew with each version. */
  kept: boolean
  onKept: (kept: boolean) => void
}) {
  const [said, setSaid] = useState({
    name: practice.name,
    address: practice.address,
    email: practice.email,
    phone: practice.phone,
    timeZone: practice.timeZone,
    currency: practice.currency,
    units: practice.units,
    reviewRequired: practice.reviewRequired,
  })
  const [edges, setEdges] = useState(practice.contrastEdges.map(String))
  const [hours, setHours] = useState(String(practice.selfCheckHours))
  const [wrong, setWrong] = useState<string | undefined>()
  const [{ fetching, error }, edit] = useMutation(EditPracticeDocument)
  const put = (field: keyof typeof said) => (event: { target: { value: string } }) =>
    setSaid((now) => ({ ...now, [field]: event.target.value }))
  const fault = error?.graphQLErrors[0]
  const at = (field: string) => (fault?.extensions?.field === field ? fault.message : undefined)

  async function send(event: FormEvent) {
    event.preventDefault()
    const read = edges.map((edge) => parseQuantity(edge, 0))
    const bad = read.find((edge) => !edge.ok)
    const values = read.flatMap((edge) => (edge.ok ? [edge.value] : []))
    const rising = values.every((value, i) => i === 0 || value > (values[i - 1] ?? 0))
    setWrong(bad && !bad.ok ? bad.why : rising ? undefined : 'each edge above the one before')
    if (bad || !rising) return
    const pause = parseQuantity(hours, 0)
    const { data } = await edit({
      input: {
        mutation: newId('mut'),
        version: practice.version,
        ...said,
        contrastEdges: values,
        selfCheckHours: pause.ok ? pause.value : practice.selfCheckHours,
      },
    })
    onKept(Boolean(data))
  }

  return (
    <form noValidate onSubmit={send} onChange={() => onKept(false)} className={s.form}>
      {!mayEdit && (
        <div style={{ marginTop: 16 }}>
          <Notice>
            Only a principal changes these. They are here so that you know what the practice’s reports say.
          </Notice>
        </div>
      )}
      <fieldset disabled={!mayEdit}>
        <legend>The practice</legend>
        <div className={s.pair}>
          <TextField label="Name" value={said.name} onChange={put('name')} error={at('name')} />
          <TextField label="E-mail" type="email" value={said.email} onChange={put('email')} error={at('email')} />
          <TextField label="Telephone" type="tel" value={said.phone} onChange={put('phone')} />
          <ZoneField
            label="Time zone"
            value={said.timeZone}
            onChange={(timeZone) => setSaid((now) => ({ ...now, timeZone }))}
            error={at('timeZone')}
            help="Reports and due dates are in it; visits are in the yard’s."
            disabled={!mayEdit}
          />
          <TextField
            label="Currency"
            value={said.currency}
            onChange={put('currency')}
            error={at('currency')}
            help="Three letters, ISO 4217. What was quoted keeps its own."
          />
          <TextArea label="Address, as reports print it" value={said.address} onChange={put('address')} />
        </div>
      </fieldset>
      <fieldset disabled={!mayEdit}>
        <legend>Marks on the hull</legend>
        <p className="small note">
          The first edge is each pass’s own: two and a half times the scatter of its dry baseline. The others are yours,
          in scale units above the baseline, and every plate prints them.
        </p>
        <div className={s.edges}>
          {edges.map((edge, i) => (
            <div key={i}>
              <ValueSign n={i + 2} />
              <NumberField
                label={['second edge', 'third edge', 'fourth edge'][i] ?? 'edge'}
                value={edge}
                onChange={(event) => setEdges((now) => now.map((old, k) => (k === i ? event.target.value : old)))}
              />
            </div>
          ))}
        </div>
        {wrong && (
          <p className="small" role="alert" style={{ color: 'var(--warn)' }}>
            {wrong}
          </p>
        )}
      </fieldset>
      <fieldset disabled={!mayEdit}>
        <legend>Reports</legend>
        <ChoiceField
          label="Lengths and temperatures"
          value={said.units === 'imperial' ? 'imperial' : 'metric'}
          onChange={(units) => setSaid((now) => ({ ...now, units }))}
          options={[
            { value: 'metric', name: 'Metres, °C' },
            { value: 'imperial', name: 'Feet, °F' },
          ]}
          help="Stored in metres and degrees Celsius either way."
        />
        <Tick
          checked={said.reviewRequired}
          onChange={(reviewRequired) => setSaid((now) => ({ ...now, reviewRequired }))}
        >
          A second person looks at every draft before it is issued
        </Tick>
        {said.reviewRequired && (
          <NumberField
            label="Where only one signs: hours before the self-check"
            className={s.short}
            value={hours}
            error={at('selfCheckHours')}
            onChange={(event) => setHours(event.target.value)}
            help="A draft lies so long after its last word; the report prints that it was a self-check."
          />
        )}
        <p>
          <Link to="/settings/wordings">The practice’s own wording of sections</Link>
        </p>
      </fieldset>
      {error && !fault?.extensions?.field && <Failed error={error} />}
      <div className="buttons">
        <button type="submit" className="act" disabled={!mayEdit || fetching}>
          Keep the settings
        </button>
        {kept && <span role="status">Kept.</span>}
      </div>
    </form>
  )
}
