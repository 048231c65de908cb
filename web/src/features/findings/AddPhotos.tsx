import { type ChangeEvent, useEffect, useRef, useState } from 'react'
import { useViewer } from '../../app/useViewer'
import { shortDay } from '../../model/dates'
import { clockAhead, sayAhead, takenBy } from '../../model/exif'
import { plural } from '../../model/words'
import { TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import s from './findings.module.css'
import { type Posted, photoKinds, post, sendAgain, usePosted } from './photoPost'

/**
 * Several at once, from the camera of a phone or from a camera's card. Each is told on its own if it cannot be kept;
 * one that the store did not take waits on this device and is sent again by itself.
 */
export function AddPhotos({ visit, vessel, onDone }: { visit: string; vessel: string; onDone: () => void }) {
  const by = useViewer()?.member?.id
  const [ahead, setAhead] = useState<number | null>(null)
  const here = usePosted().filter((each) => each.visit === visit)
  const of = (state: Posted['state']) => here.filter((each) => each.state === state)
  const left = of('to send').length
  const owed = left + of('waiting').length + of('stopped').length
  const told = useRef(owed)
  // What came is shown once nothing more is on its way, and not photo by photo.
  useEffect(() => {
    if (left > 0) told.current = Math.max(told.current, owed)
    else {
      if (owed < told.current) onDone()
      told.current = owed
    }
  }, [left, owed, onDone])

  return (
    <div className={s.add}>
      {of('refused').map(({ photo, file, fault }) => (
        <Notice bad key={photo}>
          {file.name}: {fault}
        </Notice>
      ))}
      {of('unseen').length > 0 && (
        <Notice>
          <b>
            {of('unseen')
              .map(({ file }) => file.name)
              .join(', ')}
            :
          </b>{' '}
          kept as it came, but this browser cannot open HEIC, so there is no picture of it to show or to print. Send it
          from the phone that took it, or send the same photo as a JPEG.
        </Notice>
      )}
      <Waiting waiting={of('waiting')} visit={visit} />
      <Stopped stopped={of('stopped')} visit={visit} />
      <Clock ahead={ahead} onAhead={setAhead} />
      <label className="plain">
        Add photos
        <input
          type="file"
          accept={[...photoKinds, '.heic', '.heif'].join(',')}
          multiple
          className="sr"
          disabled={!by}
          onChange={(event) => {
            const files = [...(event.target.files ?? [])]
            event.target.value = ''
            if (by) void post(files, { by, visit, vessel, ahead })
          }}
        />
      </label>
      <span role="status" className="small note">
        {left > 0 && `${plural(left, 'photo')} still to be sent`}
      </span>
    </div>
  )
}

function Waiting({ waiting, visit }: { waiting: readonly Posted[]; visit: string }) {
  if (waiting.length === 0) return null
  const held = waiting.every((each) => each.held)
  return (
    <Notice>
      <b>{plural(waiting.length, 'photo')} waiting:</b> the store of files does not answer. Everything else is kept;{' '}
      {held
        ? 'they are kept on this device and sent by themselves, also when you go on elsewhere and come back later, or'
        : 'this browser keeps nothing, so leave this page open: they are sent again by themselves, or'}{' '}
      <button type="button" className="quiet" onClick={() => sendAgain(visit, 'waiting')}>
        send them now
      </button>
    </Notice>
  )
}

/** Taken already where no leave covers it: kept with a mark, a reason and a name. */
function Stopped({ stopped, visit }: { stopped: readonly Posted[]; visit: string }) {
  const [why, setWhy] = useState('')
  if (stopped.length === 0) return null
  return (
    <>
      {[...new Set(stopped.map(({ fault }) => fault))].map((fault) => (
        <Notice bad key={fault}>
          {fault}
        </Notice>
      ))}
      <TextField
        label={`${plural(stopped.length, 'photo')} taken already: why without leave`}
        value={why}
        onChange={(event) => setWhy(event.target.value)}
        help="They are kept with a mark, this reason and your name."
        autoComplete="off"
      />
      <button
        type="button"
        className="plain"
        disabled={!why.trim()}
        onClick={() => sendAgain(visit, 'stopped', why.trim())}
      >
        Keep them with this reason
      </button>
    </>
  )
}

/** A camera's card: its clock is set right by a photo that it took of the phone's. */
function Clock({ ahead, onAhead }: { ahead: number | null; onAhead: (seconds: number | null) => void }) {
  const [camera, setCamera] = useState<Date | null>(null)
  const [shown, setShown] = useState('')
  const [wrong, setWrong] = useState<string | undefined>()

  async function look(event: ChangeEvent<HTMLInputElement>) {
    const file = event.target.files?.[0]
    event.target.value = ''
    const taken = file ? takenBy(await file.arrayBuffer()) : null
    setCamera(taken)
    setWrong(file && !taken ? 'This photo does not say when it was taken.' : undefined)
    onAhead(taken && clockAhead(taken, shown))
  }

  return (
    <details className={s.card}>
      <summary>
        From a camera’s card{ahead === null ? ': set its clock right first' : `: its clock ${sayAhead(ahead)}`}
      </summary>
      <p className="small note">
        Photograph the phone’s clock with the camera, choose that photo, and type what the clock shows on it. The time
        of each photo added after that is put right by the difference; the photo itself stays as taken.
      </p>
      <label className="plain">
        Photo of the phone’s clock
        <input type="file" accept="image/jpeg" className="sr" onChange={look} />
      </label>
      {camera && (
        <p className="small">
          The camera says {camera.toLocaleTimeString('en-GB')}, {shortDay(localDay(camera))}.
        </p>
      )}
      <TextField
        label="The clock on it shows"
        placeholder="14:05:30"
        value={shown}
        error={wrong ?? (camera && shown.trim() && ahead === null ? 'The time as 14:05:30 or 14:05.' : undefined)}
        onChange={(event) => {
          setShown(event.target.value)
          onAhead(camera && clockAhead(camera, event.target.value))
        }}
      />
    </details>
  )
}

/** The calendar day that a camera's own clock showed, 2026-10-14. */
const localDay = (at: Date) =>
  [at.getFullYear(), at.getMonth() + 1, at.getDate()].map((part) => String(part).padStart(2, '0')).join('-')
