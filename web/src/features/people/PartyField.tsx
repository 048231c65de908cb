import { type ReactNode, useState } from 'react'
import { useQuery } from 'urql'
import { PartiesByNameDocument } from '../../graphql/gen/graphql'
import { Combo } from '../../ui/Combo'

/** Somebody of those whom the practice deals with, looked for by name among all of them. */
export function PartyField({
  label,
  known,
  onFound,
  help,
  error,
}: {
  label: string
  /** Who stands there before anybody is looked for. */
  known?: { id: string; name: string } | null | undefined
  onFound: (id: string | null) => void
  help?: ReactNode
  error?: string | undefined
}) {
  const [find, setFind] = useState('')
  const [chosen, choose] = useState(known ?? null)
  const [{ data }] = useQuery({ query: PartiesByNameDocument, variables: { find: find || null } })
  const found = (data?.parties.edges ?? []).map(({ node }) => node)
  // Who is chosen stays in the list, whatever the typing finds.
  const items = chosen && !found.some(({ id }) => id === chosen.id) ? [chosen, ...found] : found
  return (
    <Combo
      label={label}
      items={items}
      {...(known ? { defaultSelectedKey: known.id } : {})}
      onInputChange={(text) => setFind(text === known?.name ? '' : text)}
      onSelectionChange={(key) => {
        choose(items.find(({ id }) => id === key) ?? null)
        onFound(key === null ? null : String(key))
      }}
      empty="Nobody by that name: add them under People first."
      {...(help ? { help } : {})}
      {...(error ? { error } : {})}
    />
  )
}
