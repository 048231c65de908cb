import { useState } from 'react'
import { useMutation, useQuery } from 'urql'
import { useMay } from '../../app/Allowed'
import { Failed } from '../../app/Fault'
import { read } from '../../graphql/gen'
import {
  CalendarFeedsDocument,
  FeedRowFragmentDoc,
  MakeFeedDocument,
  RevokeFeedDocument,
} from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { newId } from '../../model/id'
import { SelectField, TextField } from '../../ui/Field'
import { Notice } from '../../ui/Notice'
import { Tick } from '../../ui/Tick'

/** The viewer’s calendar feeds: made, copied once, ended. */
export function Feeds() {
  const [{ data, error }, again] = useQuery({ query: CalendarFeedsDocument })
  const [purpose, setPurpose] = useState('my visits')
  const [boats, setBoats] = useState(true)
  const [clients, setClients] = useState(false)
  const [address, setAddress] = useState<string | null>(null)
  const [copied, setCopied] = useState(false)
  const [making, make] = useMutation(MakeFeedDocument)
  const [ending, end] = useMutation(RevokeFeedDocument)
  const diary = useMay('readDiary')
  const feeds = (data?.calendarFeeds ?? []).map((feed) => read(FeedRowFragmentDoc, feed))
  const fresh = () => again({ requestPolicy: 'network-only' })
  const fault = error ?? making.error ?? ending.error

  async function add() {
    setCopied(false)
    const { data } = await make({ input: { mutation: newId('mut'), id: newId('fee'), purpose, boats, clients } })
    setAddress(data?.makeFeed.address ?? null)
    fresh()
  }

  return (
    <section style={{ display: 'grid', gap: 12 }}>
      <h2>In your calendar</h2>
      <p className="small note">
        A calendar program fetches your visits from a secret address. Whoever has it reads them: give it to nobody, and
        end it when a device is lost.
      </p>
      {fault && <Failed error={fault} />}
      {feeds.length > 0 && (
        <ul className="plain-list">
          {feeds.map((feed) => (
            <li key={feed.id} style={{ borderTop: '1px solid var(--hair)', padding: '6px 0' }}>
              <b>{feed.purpose}</b>
              <span className="small note" style={{ display: 'block' }}>
                {feed.boats ? (feed.clients ? 'boats and clients named' : 'boats named') : 'nobody named'}, since{' '}
                {shortDay(feed.createdAt)};{' '}
                {feed.lastFetchedAt ? `last fetched ${shortDay(feed.lastFetchedAt)}` : 'never fetched'}
              </span>
              <button
                type="button"
                className="quiet"
                disabled={ending.fetching}
                onClick={async () => {
                  await end({ input: { mutation: newId('mut'), id: feed.id } })
                  setAddress(null)
                  fresh()
                }}
              >
                End it<span className="sr">: {feed.purpose}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
      {address && (
        <Notice
          ways={
            <button
              type="button"
              className="plain"
              onClick={() => navigator.clipboard.writeText(address).then(() => setCopied(true))}
            >
              {copied ? 'Copied' : 'Copy the address'}
            </button>
          }
        >
          <p>Copy it now: it is shown this once and not kept.</p>
          <TextField label="Secret address" readOnly value={address} />
        </Notice>
      )}
      <SelectField label="A feed of" value={purpose} onChange={(event) => setPurpose(event.target.value)}>
        <option>my visits</option>
        {diary && <option>all visits</option>}
        {diary && <option>reinspections</option>}
      </SelectField>
      <Tick checked={boats} onChange={setBoats}>
        Name the boats
      </Tick>
      <Tick checked={clients} onChange={setClients}>
        Name the clients
      </Tick>
      <div>
        <button type="button" className="plain" disabled={making.fetching} onClick={add}>
          {feeds.some((feed) => feed.purpose === purpose) ? 'Make a new address; the old one ends' : 'Make the address'}
        </button>
      </div>
    </section>
  )
}
