import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { EraseMemberDocument, MemberKeptDocument } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { Waiting } from '../../ui/Notice'
import { Sheet } from '../../ui/Sheet'
import { EraseForm } from './EraseForm'

/** What is kept of a member who left, but for the name under what was signed. */
export function EraseMember({ member, onClose }: { member: string | null; onClose: () => void }) {
  return (
    <Sheet title="Erase what is kept of a member who left" open={member !== null} onClose={onClose} wide>
      {member && <Preview member={member} onDone={onClose} />}
    </Sheet>
  )
}

function Preview({ member, onDone }: { member: string; onDone: () => void }) {
  const [{ data, error }] = useQuery({ query: MemberKeptDocument, variables: { id: member } })
  const [{ fetching, error: refused }, erase] = useMutation(EraseMemberDocument)
  const kept = data?.memberKept
  if (error) return <Failed error={error} />
  if (!kept) return <Waiting lines={4} />
  return (
    <EraseForm
      typed={{ label: 'The member’s name', is: kept.name, field: 'name' }}
      rows={kept.rows}
      stops={kept.stops}
      backups={kept.backups}
      says="Address, sign-in, feeds and reasons of leaves go. The name and the qualification stay: they stand under what was signed."
      fetching={fetching}
      error={refused}
      erase={async (reason, name) => {
        const { data } = await erase({ input: { mutation: newId('mut'), id: newId('era'), member, reason, name } })
        if (data) onDone()
      }}
    />
  )
}
