import { useId } from 'react'
import { Link, useParams } from 'react-router'
import { useQuery } from 'urql'
import { NotFound } from '../../app/Fault'
import { Answer } from '../../app/Page'
import { useSearch } from '../../app/useSearch'
import { CausesDocument, type CausesQuery } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { flag, optional } from '../../model/search'
import { SelectField } from '../../ui/Field'
import { Invented } from '../../ui/Invented'
import { Empty } from '../../ui/Notice'
import { Tick } from '../../ui/Tick'
import { VesselRunning } from '../vessels/VesselRunning'
import s from './causes.module.css'
import { Depths } from './Depths'
import { Made } from './Made'
import { MatterLedger } from './MatterLedger'

export type Ledger = NonNullable<CausesQuery['causes']>

const choices = {
  /** Pass that the ledgers are drawn from; the newest metered one where none is named. */
  pass: optional(),
  /** Only what the client of that pass may be told. */
  client: flag(),
}

/** What may stand behind high readings: a working document, to be gone on with at each visit. */
export default function CausesPage() {
  const { id = '' } = useParams()
  const [choice, choose] = useSearch(choices)
  const [{ data, error }, again] = useQuery({
    query: CausesDocument,
    variables: { id, pass: choice.pass, forClient: choice.client },
  })
  if (data && !data.vessel) return <NotFound />
  return (
    <>
      {data?.vessel && <VesselRunning vessel={data.vessel} leaf="causes" />}
      <main id="main" className={`page-body ${s.page}`}>
        <Answer data={data?.causes} error={error} again={again} lines={12}>
          {(ledger) =>
            ledger.pass ? (
              <>
                <Head
                  ledger={ledger}
                  passes={data?.vessel?.history.passes ?? []}
                  client={choice.client}
                  onPass={(pass) => choose({ pass })}
                  onClient={(client) => choose({ client })}
                />
                <Document ledger={ledger} vessel={id} />
              </>
            ) : (
              <Empty title="Nothing metered yet">
                <p>Causes are weighed once a pass of readings is there, beside what was seen, heard and opened.</p>
              </Empty>
            )
          }
        </Answer>
        <Invented show={data?.viewer.practice.invented} />
      </main>
    </>
  )
}

interface HeadProps {
  ledger: Ledger
  passes: NonNullable<CausesQuery['vessel']>['history']['passes']
  client: boolean
  onPass: (id: string) => void
  onClient: (on: boolean) => void
}

/** How the page is to be read, and which pass it speaks of. */
function Head({ ledger, passes, client, onPass, onClient }: HeadProps) {
  return (
    <header className={s.head}>
      <div className="measure">
        <p>
          A line points towards a cause; it gives no chance of it. Readings alone name none. What mimics a wet laminate
          stays live until a check excludes it; two independent kinds of evidence make a cause likely; a sample or an
          opened place confirms it.
        </p>
        <p className="small note">
          What points where: {ledger.tag}; a surveyor may disagree, and that stands beside it.
        </p>
        {ledger.notes.map((note) => (
          <p key={note.text} className="small">
            {note.text}
          </p>
        ))}
        {ledger.pass?.state === 'open' && (
          <p className="small">The pass is still open: the ledgers speak of what is read so far.</p>
        )}
      </div>
      <div className={s.choices}>
        <SelectField label="As the pass shows" value={ledger.pass?.id} onChange={(event) => onPass(event.target.value)}>
          {[...passes].reverse().map(({ id, on, instrument, state }) => (
            <option key={id} value={id}>
              {shortDay(on)}, {instrument?.name ?? 'instrument not stated'}
              {state === 'open' ? ', open' : ''}
            </option>
          ))}
        </SelectField>
        <Tick checked={client} onChange={onClient}>
          Only what her client of that day may be told
        </Tick>
      </div>
    </header>
  )
}

function Document({ ledger, vessel }: { ledger: Ledger; vessel: string }) {
  const at = useId()
  return (
    <div className={s.document}>
      <nav className={s.contents} aria-label="Matters">
        <ol>
          {ledger.matters.map((matter, k) => (
            <li key={matter.title}>
              <a href={`#${at}${k}`}>{matter.title}</a>
            </li>
          ))}
          <li>
            <a href={`#${at}depths`}>Two depths</a>
          </li>
          <li>
            <a href={`#${at}made`}>Checks made</a>
          </li>
        </ol>
        <p className="small">
          <Link to={`/vessels/${vessel}?against=${ledger.pass?.id}`}>The readings on the hull</Link>
        </p>
      </nav>
      <div>
        {ledger.matters.map((matter, k) => (
          <MatterLedger key={matter.title} id={`${at}${k}`} ledger={ledger} matter={matter} vessel={vessel} />
        ))}
        <p className={`small note ${s.ranked}`}>
          Checks are ranked so: each live cause is taken for the true one in turn, and it is counted how many in a
          hundred of the others the check would then set apart, causes with more evidence weighing more. A measure of
          this program, no chance of anything. Times are common practice, no source. Ask the owner’s leave where it says
          so; look before anything is opened.
        </p>
        <Depths id={`${at}depths`} ledger={ledger} />
        <Made id={`${at}made`} ledger={ledger} />
      </div>
    </div>
  )
}
