import { Link } from 'react-router'
import { useQuery } from 'urql'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import { MeasuringPageDocument, ScatterPartsFragmentDoc } from '../../graphql/gen/graphql'
import { Table } from '../../ui/Table'
import { Symbols } from '../instruments/Said'

/**
 * How closely each person’s own placements come back beside the practice’s. The service answers with what is the
 * reader’s to see: his or her own, and everybody’s for the principal. In the order of names, never of figures.
 */
export function OwnRepeatability() {
  const viewer = useViewer()
  const [{ data }] = useQuery({ query: MeasuringPageDocument })
  if (!data) return null
  const rows = data.measuring.scales.flatMap((scale) =>
    scale.own.map((own) => {
      const of = read(ScatterPartsFragmentDoc, own.repeatability)
      return {
        id: `${own.member.id} ${scale.scale.id}`,
        member: own.member,
        instrument: scale.instrument.name,
        own: of && of.degreesOfFreedom >= 30 ? of : null,
        df: of?.degreesOfFreedom ?? 0,
        ours: read(ScatterPartsFragmentDoc, scale.repeatability),
        measured: scale.replacements > 0,
      }
    }),
  )
  type Row = (typeof rows)[number]
  const me = viewer?.member.id
  rows.sort((a, b) => a.member.name.localeCompare(b.member.name))
  return (
    <section>
      <h2>{rows.every(({ member }) => member.id === me) ? 'Your own repeatability' : 'Own repeatability'}</h2>
      {rows.length === 0 ? (
        <p className="small note">
          You have read in no kit yet. <Link to="/instruments/half-hour">The half hour</Link> says how.
        </p>
      ) : (
        <>
          <p className="small wet note measure">{data.measuring.aid.text}</p>
          <Table
            caption="Own repeatability beside the practice’s, s_r in scale units"
            hideCaption
            columns={[
              { head: 'who', names: true, nowrap: true, cell: (row: Row) => row.member.name },
              { head: 'with', cell: (row) => row.instrument },
              {
                head: <Symbols text="own s_r" />,
                short: 'own',
                num: true,
                cell: ({ own }) => (own ? own.value.toFixed(2) : 'too few'),
              },
              {
                head: '95 in 100',
                num: true,
                nowrap: true,
                cell: ({ own }) => (own ? `${own.lower.toFixed(2)} to ${own.upper.toFixed(2)}` : '–'),
              },
              { head: 're-placements', num: true, cell: ({ df }) => df },
              {
                head: 'the practice’s',
                num: true,
                cell: ({ ours, measured }) => ours?.value.toFixed(2) ?? (measured ? 'not shown' : '–'),
              },
            ]}
            rows={rows}
            id={(row) => row.id}
          />
          {rows.some(({ ours, measured }) => measured && !ours) && (
            <p className="small note measure">
              Not shown: one other person stands behind that figure, and yours taken off it would leave hers or his.
            </p>
          )}
        </>
      )}
    </section>
  )
}
