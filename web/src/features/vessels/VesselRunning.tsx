import { type FragmentType, read } from '../../graphql/gen'
import { VesselHeadFragmentDoc } from '../../graphql/gen/graphql'
import { metres } from '../../model/words'
import { Running } from '../../ui/Running'

/** The running head of a vessel's book, the same over each of its leaves. */
export function VesselRunning({
  vessel,
  leaf,
  more,
}: {
  vessel: FragmentType<typeof VesselHeadFragmentDoc>
  leaf: string
  /** Said after the identity where the page is wide. */
  more?: string
}) {
  const her = read(VesselHeadFragmentDoc, vessel)
  const to = `/vessels/${her.id}`
  const identity = [
    her.kind,
    her.loaMm && metres(her.loaMm),
    her.mouldedYear && `moulded ${her.mouldedYear}`,
    her.hullNumber?.asRead && `hull no. ${her.hullNumber.asRead}`,
  ].filter(Boolean)
  return (
    <Running
      title={her.name}
      page={`${her.name}, ${leaf}`}
      tabsLabel={her.name}
      tabs={[
        { to: `${to}/brief`, name: 'Brief' },
        { to, name: 'Resurvey' },
        { to: `${to}/causes`, name: 'Causes' },
        { to: `${to}/recommendations`, name: 'Recommendations' },
        { to: `${to}/reports`, name: 'Reports' },
      ]}
    >
      {identity.join(', ')}
      {more && <span className="wide-only"> · {more}</span>}
    </Running>
  )
}
