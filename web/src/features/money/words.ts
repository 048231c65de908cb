import type { InvoiceRowFragment } from '../../graphql/gen/graphql'
import { dayNumber, shortDay } from '../../model/dates'
import { money } from '../../model/money'
import { capital, plural } from '../../model/words'

/** What an invoice is called where it has no number yet. */
export function invoiceName(i: Pick<InvoiceRowFragment, 'kind' | 'number'>): string {
  return i.number ? `${capital(i.kind)} ${i.number}` : `${capital(i.kind)}, a draft`
}

/** Where an invoice stands, in words; `today` is the practice's. */
export function standing(i: InvoiceRowFragment, today: string): string {
  if (i.state === 'draft') return 'not issued'
  if (i.kind === 'credit note') return `takes back ${i.creditsNumber}`
  if (i.owedMinor < 0) return `${money(-i.owedMinor, i.currency)} to pay back`
  if (i.owedMinor === 0) return i.paidOn ? `paid ${shortDay(i.paidOn)}` : 'settled'
  const late = i.dueOn ? dayNumber(today) - dayNumber(i.dueOn) : 0
  const owed = i.owedMinor === i.netMinor + i.taxMinor ? 'due' : `${money(i.owedMinor, i.currency)} left, due`
  return `${owed} ${i.dueOn ? shortDay(i.dueOn) : ''}${late > 0 ? `, ${plural(late, 'day')} late` : ''}`
}

export const isLate = (i: InvoiceRowFragment, today: string) => i.owedMinor > 0 && i.dueOn != null && i.dueOn < today

/** Parts in a thousand as a percentage of tax: 230 is 23, 135 is 13.5. */
export const taxRate = (permille: number) => `${permille / 10} %`
