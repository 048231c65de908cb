import { ChoiceField } from '../../ui/Choice'
import { DateField } from '../../ui/DateField'
import { TextField } from '../../ui/Field'

/** What an old paper says of when it was. */
export interface Paper {
  known: 'day' | 'month' | 'year'
  day: string | null
  /** As typed: "5/2019", "2019-05"; or a year alone. */
  typed: string
  written: string
  ashore: string
  /** The time ashore it belongs to; '' where none is known. */
  spell: string
}

export const blankPaper: Paper = { known: 'month', day: null, typed: '', written: '', ashore: '', spell: '' }

export const wanted = { day: 'give the day', month: 'as 5/2019', year: 'as 2019' }

/** A day within the time that a paper names, 2019-05-01; null where it names none. */
export function dayOfPaper({ known, day, typed }: Paper): string | null {
  if (known === 'day') return day
  const text = typed.trim()
  if (known === 'year') return /^(19|20)\d\d$/.test(text) ? `${text}-01-01` : null
  const match = /^(\d{1,2})[/. -](\d{4})$/.exec(text)
  const back = /^(\d{4})-(\d{1,2})$/.exec(text)
  const [year, month] = match ? [match[2], match[1]] : back ? [back[1], back[2]] : []
  const m = Number(month)
  return /^(19|20)\d\d$/.test(year ?? '') && m >= 1 && m <= 12 ? `${year}-${String(m).padStart(2, '0')}-01` : null
}

/** The date of a visit from an old paper, as far as the paper knows it. */
export function OldDate({
  paper,
  onChange,
  wrong,
}: {
  paper: Paper
  onChange: (paper: Paper) => void
  wrong?: string
}) {
  const put = (part: Partial<Paper>) => onChange({ ...paper, ...part })
  return (
    <>
      <ChoiceField
        label="Its date is known to"
        value={paper.known}
        onChange={(known) => put({ known })}
        options={[
          { value: 'day', name: 'the day' },
          { value: 'month', name: 'the month' },
          { value: 'year', name: 'the year' },
        ]}
        help="Of a month or a year days ashore are known to a range, where the time ashore is known."
      />
      <div className="fields">
        {paper.known === 'day' ? (
          <DateField label="Day" value={paper.day} onChange={(day) => put({ day })} error={wrong} />
        ) : (
          <TextField
            label={paper.known === 'month' ? 'Month' : 'Year'}
            value={paper.typed}
            onChange={(event) => put({ typed: event.target.value })}
            error={wrong}
            help={wanted[paper.known]}
            inputMode="text"
          />
        )}
        <TextField
          label="Date, as written"
          value={paper.written}
          onChange={(event) => put({ written: event.target.value })}
          maxLength={200}
        />
        <TextField
          label="Days ashore, as written"
          value={paper.ashore}
          onChange={(event) => put({ ashore: event.target.value })}
          maxLength={200}
        />
      </div>
    </>
  )
}
