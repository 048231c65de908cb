import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { type MergeRowFragment, UndoPartyMergeDocument } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { plural } from '../../model/words'
import { TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import s from './people.module.css'

/** What was merged lately, by whom and why, and the way back. */
export function Merges({ rows }: { rows: readonly MergeRowFragment[] }) {
  const [open, setOpen] = useState<MergeRowFragment | null>(null)
  return (
    <section>
      <h2>Merged</h2>
      {rows.length === 0 ? (
        <p className="small note">Nothing was merged yet. What is, stands here with its reason, and can be undone.</p>
      ) : (
        <ul className={`plain-list ${s.members}`}>
          {rows.map((row) => (
            <li key={row.id}>
              <span>
                <b>{row.lostName}</b> into <b>{row.keptName}</b>
              </span>
              <span className="small">{row.because}</span>
              <span className="small note">
                {[row.by, shortDay(row.at), `${plural(row.followed, 'thing')} followed`].filter(Boolean).join(' · ')}
              </span>
              {row.undoneAt ? (
                <span className="small note">
                  undone {shortDay(row.undoneAt)}
                  {row.undoneBy && ` by ${row.undoneBy}`}: {row.undoneBecause}
                </span>
              ) : row.keptIsGone ? (
                <span className="small note">{row.keptName} went into another entry since: that is undone first.</span>
              ) : (
                <span>
                  <button type="button" className="quiet" onClick={() => setOpen(row)}>
                    They are two after all<span className="sr">: {row.lostName}</span>
                  </button>
                </span>
              )}
            </li>
          ))}
        </ul>
      )}
      <Sheet title="Two after all" open={open !== null} onClose={() => setOpen(null)}>
        {open && <Undo row={open} onDone={() => setOpen(null)} />}
      </Sheet>
    </section>
  )
}

function Undo({ row, onDone }: { row: MergeRowFragment; onDone: () => void }) {
  const [because, setBecause] = useState('')
  const [wrong, setWrong] = useState('')
  const [{ fetching, error }, undo] = useMutation(UndoPartyMergeDocument)

  async function send(event: FormEvent) {
    event.preventDefault()
    if (!because.trim()) return setWrong('Say why: it is kept with your name.')
    const { data } = await undo({ input: { mutation: newId('mut'), id: row.id, because } })
    if (data) onDone()
  }

  return (
    <form className={s.form} noValidate onSubmit={send}>
      {error && <Failed error={error} />}
      <p>
        What followed from {row.lostName} and was not changed since goes back. What was written since stays with{' '}
        {row.keptName}.
      </p>
      <TextField
        label="Why they are two"
        value={because}
        error={wrong}
        maxLength={500}
        onChange={(event) => {
          setWrong('')
          setBecause(event.target.value)
        }}
      />
      <div>
        <button type="submit" className="act" disabled={fetching}>
          Make them two again
        </button>
      </div>
    </form>
  )
}
