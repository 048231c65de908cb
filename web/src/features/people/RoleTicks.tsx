import type { Role } from '../../graphql/gen/graphql'
import { Tick } from '../../ui/Tick'
import s from './people.module.css'

const roles: [Role, string][] = [
  ['principal', 'signs, invites, sets the practice’s rules'],
  ['surveyor', 'reads hulls, writes and signs reports'],
  ['trainee', 'reads and writes, does not sign'],
  ['office', 'books, people, money; no readings'],
  ['guest', 'sees the one job he or she is let into'],
]

/** The roles that a member has, each with what it may. */
export function RoleTicks({
  chosen,
  onChange,
  error,
}: {
  chosen: readonly Role[]
  onChange: (roles: Role[]) => void
  error?: string | undefined
}) {
  return (
    <fieldset className={s.roles} style={{ border: 0, padding: 0 }}>
      <legend className="small note">Roles</legend>
      {roles.map(([role, words]) => (
        <Tick
          key={role}
          checked={chosen.includes(role)}
          onChange={(on) => onChange(on ? [...chosen, role] : chosen.filter((r) => r !== role))}
        >
          <b>{role}</b> <span className="note">{words}</span>
        </Tick>
      ))}
      {error && (
        <p className="small" role="alert" style={{ color: 'var(--warn)' }}>
          {error}
        </p>
      )}
    </fieldset>
  )
}
