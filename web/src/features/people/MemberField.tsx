import { useViewer } from '../../app/useViewer'
import { SelectField } from '../../ui/Field'

/** One of those who belong to the practice now; whoever looks at the page, until somebody is chosen. */
export function MemberField({
  label,
  members,
  value,
  onChange,
}: {
  label: string
  members: readonly { node: { id: string; name: string; leftAt: string | null } }[] | undefined
  value: string | null
  onChange: (id: string) => void
}) {
  const viewer = useViewer()
  return (
    <SelectField
      label={label}
      value={value ?? viewer?.member.id ?? ''}
      onChange={(event) => onChange(event.target.value)}
    >
      {(members ?? [])
        .filter(({ node }) => !node.leftAt)
        .map(({ node }) => (
          <option key={node.id} value={node.id}>
            {node.name}
          </option>
        ))}
    </SelectField>
  )
}
