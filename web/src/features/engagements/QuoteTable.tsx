import { money } from '../../model/money'

/** Lines of a quote with their tax, and a last row under them. */
export function QuoteTable({
  caption,
  lines,
  currency,
  last,
}: {
  caption: string
  lines: readonly { text: string; amountMinor: number; taxMinor: number; taxPermille: number }[]
  currency: string
  last: { name: string; amount: [head: string, minor: number]; tax: [head: string, minor: number]; bold?: true }
}) {
  const sum = (minor: number) => money(minor, currency)
  return (
    <table className="folds">
      <caption className="sr">{caption}</caption>
      <thead>
        <tr>
          <th scope="col">for</th>
          <th scope="col" className="num">
            amount
          </th>
          <th scope="col" className="num">
            tax
          </th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr key={`${line.text}/${line.amountMinor}`}>
            <th scope="row">{line.text}</th>
            <td data-head="amount" className="num">
              {sum(line.amountMinor)}
            </td>
            <td data-head="tax" className="num">
              {sum(line.taxMinor)} ({line.taxPermille / 10} %)
            </td>
          </tr>
        ))}
        <tr>
          <th scope="row">{last.name}</th>
          <td data-head={last.amount[0]} className="num">
            {sum(last.amount[1])}
          </td>
          <td data-head={last.tax[0]} className="num">
            {last.bold ? <b>{sum(last.tax[1])}</b> : sum(last.tax[1])}
          </td>
        </tr>
      </tbody>
    </table>
  )
}
