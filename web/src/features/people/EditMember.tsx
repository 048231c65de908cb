import { type FormEvent, useState } from 'react'
import { useMutation } from 'urql'
import { Failed } from '../../app/Fault'
import { faults } from '../../app/faults'
import { useViewer } from '../../app/useViewer'
import { EditMemberDocument, type PeoplePageQuery, type Role } from '../../graphql/gen/graphql'
import { newId } from '../../model/id'
import { TextArea, TextField } from '../../ui/Field'
import { Sheet } from '../../ui/Sheet'
import { Tick } from '../../ui/Tick'
import s from './people.module.css'
import { RoleTicks } from './RoleTicks'

type Member = PeoplePageQuery['members']['edges'][number]['node']

/** A member’s name as reports sign it, what he or she may, and that somebody has left. */
export function EditMember({ member, onClose }: { member: Member; onClose: () => void }) {
  const [name, setName] = useState(member.name)
  const [qualification, setQualification] = useState(member.qualification)
  const [roles, setRoles] = useState<Role[]>([...member.roles])
  const [left, setLeft] = useState(Boolean(member.leftAt))
  const [tried, setTried] = useState(false)
  const [{ fetching, error }, edit] = useMutation(EditMemberDocument)
  const { at, rest } = faults(error, 'name', 'qualification', 'roles')
  const viewer = useViewer()
  const own = viewer?.member?.id === member.id && !viewer.roles.includes('principal')

  async function send(event: FormEvent) {
    event.preventDefault()
    setTried(true)
    if (!name.trim() || roles.length === 0) return
    const { data } = await edit({
      input: {
        mutation: newId('mut'),
        id: member.id,
        version: member.version,
        name: name.trim(),
        qualification: qualification.trim(),
        roles,
        left,
      },
    })
    if (data) onClose()
  }

  return (
    <Sheet title={member.name} open onClose={onClose}>
      <form className={s.form} noValidate onSubmit={send}>
        {rest && <Failed error={rest} />}
        <TextField
          label="Name"
          value={name}
          onChange={(event) => setName(event.target.value)}
          error={tried && !name.trim() ? 'Give the name that stands under reports' : at('name')}
          help="Reports that were issued keep the name they were signed with."
        />
        <TextArea
          label="Qualification"
          rows={2}
          value={qualification}
          onChange={(event) => setQualification(event.target.value)}
          error={at('qualification')}
          help="As it stands under a report."
        />
        {own ? (
          <p className="small note">Your roles: {roles.join(', ')}. A principal changes them.</p>
        ) : (
          <RoleTicks
            chosen={roles}
            onChange={setRoles}
            error={tried && roles.length === 0 ? 'Everybody has a role at least' : at('roles')}
          />
        )}
        <Tick checked={left} onChange={setLeft}>
          Has left the practice
        </Tick>
        {left && !member.leftAt && (
          <p className="small note">
            Nothing can be written under this name from then on, nor read after a minute: sign-ins and keys end. What
            was written stays.
          </p>
        )}
        <div>
          <button type="submit" className="act" disabled={fetching}>
            Write down
          </button>
        </div>
      </form>
    </Sheet>
  )
}
