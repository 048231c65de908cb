import { useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { useMay } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { read } from '../../graphql/gen'
import { ErasePersonDocument, type KeptFragment, KeptFragmentDoc, PersonKeptDocument } from '../../graphql/gen/graphql'
import { longDay, shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { Notice, Waiting } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import { Table } from '../../ui/Table'
import { EraseForm } from './EraseForm'
import { KeptTable } from './KeptTable'
import s from './privacy.module.css'

/** What the practice keeps about them, to export and to erase: a principal's. */
export function Kept({ id }: { id: string }) {
  const may = useMay('keepPrivacy')
  const [erasing, setErasing] = useState(false)
  const [{ data, error }, again] = useQuery({ query: PersonKeptDocument, variables: { id }, pause: !may })
  if (!may) return null
  const kept = data?.personKept ? read(KeptFragmentDoc, data.personKept) : null
  return (
    <section id="kept">
      <h2>What is kept about them</h2>
      {error ? (
        <Failed error={error} again={() => again({ requestPolicy: 'network-only' })} />
      ) : !kept ? (
        <Waiting lines={4} />
      ) : (
        <>
          {kept.erasedAt && (
            <Notice>
              The details were erased on {longDay(kept.erasedAt)}. What is left names nobody, or was issued and stays
              until the time of its file is over.
            </Notice>
          )}
          {kept.notes.map((text) => (
            <p key={text} className="small note measure">
              {text}
            </p>
          ))}
          <KeptTable rows={kept.rows} />
          <Files kept={kept} />
          {kept.exports[0] && (
            <p className="small note">
              Exported {kept.exports.map(({ at, by }) => `${shortDay(at)}${by && ` by ${by}`}`).join('; ')}.
            </p>
          )}
          <div className={s.ways}>
            <a className="plain" href={`/people/${id}/export.zip`}>
              Export
            </a>
            {kept.kind === 'person' && !kept.erasedAt && (
              <button type="button" className="plain" onClick={() => setErasing(true)}>
                Erase…
              </button>
            )}
          </div>
          <Sheet title="Erase what identifies this person" open={erasing} onClose={() => setErasing(false)} wide>
            {erasing && <Erase kept={kept} onDone={() => setErasing(false)} />}
          </Sheet>
        </>
      )}
    </section>
  )
}

function Files({ kept }: { kept: KeptFragment }) {
  if (kept.files.length === 0) return null
  return (
    <div className={s.files}>
      <Table
        caption="Files with a part of theirs, and until when what was issued stays"
        columns={[
          { head: 'job', names: true, cell: (file: KeptFragment['files'][number]) => file.number },
          { head: 'boat', cell: (file) => file.vessel },
          { head: 'stage', cell: (file) => file.stage },
          { head: 'stays until', nowrap: true, cell: (file) => (file.gone ? 'erased' : shortDay(file.dueOn)) },
        ]}
        rows={kept.files}
        id={(file) => file.job}
      />
    </div>
  )
}

function Erase({ kept, onDone }: { kept: KeptFragment; onDone: () => void }) {
  const [{ fetching, error }, erase] = useMutation(ErasePersonDocument)
  return (
    <EraseForm
      typed={{ label: 'Their name', is: kept.name, field: 'name' }}
      rows={kept.rows}
      stops={kept.stops}
      backups={kept.backups}
      says="The person goes, the boat’s record stays. Links close and say so politely; letters that wait are not sent; photos that were sent with answers go from the store of files. What was issued stays as it was issued until the time of its file is over."
      fetching={fetching}
      error={error}
      erase={async (reason, name) => {
        const { data } = await erase({
          input: { mutation: newId('mut'), id: newId('era'), party: kept.id, reason, name },
        })
        if (data) onDone()
      }}
    />
  )
}
