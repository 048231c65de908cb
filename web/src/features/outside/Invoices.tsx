import { useEffect, useState } from 'react'
import { longDay } from '../../model/dates'
import { money } from '../../model/money'
import { capital } from '../../model/words'
import s from './shared.module.css'

interface SharedInvoice {
  number: string
  kind: string
  dated: string
  dueOn: string
  currency: string
  totalMinor: number
  owedMinor: number
}

/** What was asked for, to whoever pays: the service names nothing to anybody else who holds a link. */
export function Invoices({ files }: { files: string }) {
  const [list, setList] = useState<SharedInvoice[]>([])
  useEffect(() => {
    const stop = new AbortController()
    fetch(`${files}/invoices`, { signal: stop.signal, headers: { Accept: 'application/json' } })
      .then(async (answer) => {
        const said = await answer.json() // read in any case: a body left unread keeps the request open
        setList(answer.ok ? said.data.invoices : [])
      })
      .catch(() => undefined)
    return () => stop.abort()
  }, [files])
  if (list.length === 0) return null
  return (
    <section>
      <h2>{list.length === 1 ? 'The invoice' : 'The invoices'}</h2>
      <ul className={s.others}>
        {list.map((i) => (
          <li key={i.number}>
            <b>
              {capital(i.kind)} {i.number}
            </b>{' '}
            <span className="note">
              {longDay(i.dated)}, {money(i.totalMinor, i.currency)}
              {i.kind !== 'credit note' && (i.owedMinor > 0 ? `, due ${longDay(i.dueOn)}` : ', paid')}
            </span>{' '}
            <a href={`${files}/invoices/${encodeURIComponent(i.number)}`} download>
              As PDF<span className="sr">, {i.number}</span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  )
}
