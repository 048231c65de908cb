import { useState } from 'react'
import { Link } from 'react-router'
import { useQuery } from 'urql'
import { Allowed } from '../../app/Allowed'
import { Answer } from '../../app/Page'
import { useSearch } from '../../app/useSearch'
import { useViewer } from '../../app/useViewer'
import { PeoplePageDocument } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { optional, text } from '../../model/search'
import { plural } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { NextFifty } from '../../ui/NextFifty'
import { Empty } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Table } from '../../ui/Table'
import { EraseMember } from '../privacy/EraseMember'
import { AddParty } from './AddParty'
import { Competences } from './Competences'
import { EditMember } from './EditMember'
import { Invite } from './Invite'
import { OwnRepeatability } from './OwnRepeatability'
import s from './people.module.css'

const choices = { find: text(), after: optional() }

/** The practice’s own people, and everybody it deals with: owners, buyers, brokers, insurers, yards. */
export default function PeoplePage() {
  const [{ find, after }, choose] = useSearch(choices)
  const viewer = useViewer()
  const [sheet, setSheet] = useState<'invite' | 'party' | null>(null)
  const [erasing, setErasing] = useState<string | null>(null)
  const [editing, edit] = useState<string | null>(null)
  const [{ data, error }, again] = useQuery({ query: PeoplePageDocument, variables: { search: find || null, after } })
  const member = data?.members.edges.find(({ node }) => node.id === editing)?.node
  return (
    <>
      <Running title="People">
        {data && `${plural(data.members.edges.length, 'member')} of the practice; owners, buyers, insurers, yards`}
      </Running>
      <main id="main" className="two">
        <Answer data={data} error={error} again={again} lines={10}>
          {(data) => {
            const parties = data.parties.edges.map(({ node }) => node)
            return (
              <>
                <section>
                  <div className={s.head}>
                    <h2>Clients, yards and others</h2>
                    <label className="push">
                      <span className="sr">Find a person or an organisation</span>
                      <input
                        type="search"
                        className={s.find}
                        placeholder="name or e-mail"
                        defaultValue={find}
                        onChange={(event) => choose({ find: event.target.value, after: null })}
                      />
                    </label>
                    <Allowed to="writePeople">
                      <Link to="/people/doubles" className="plain">
                        Entered twice?
                      </Link>
                      <button type="button" className="plain" onClick={() => setSheet('party')}>
                        Add one
                      </button>
                    </Allowed>
                  </div>
                  {parties.length === 0 ? (
                    <Empty title={find ? `Nobody answers to “${find}”` : 'Nobody yet'}>
                      <p>
                        Whoever a job is for, owns a boat, lifts her or insures her stands here once, and takes part in
                        jobs and vessels from day to day. People can be erased; the hull’s record survives them.
                      </p>
                    </Empty>
                  ) : (
                    <Table
                      caption="Clients, yards and others"
                      hideCaption
                      columns={[
                        {
                          head: 'name',
                          names: true,
                          cell: (p) => <Link to={`/people/${p.id}`}>{p.name}</Link>,
                        },
                        { head: 'is', cell: (p) => (p.isYard ? <Link to={`/yards/${p.id}`}>yard</Link> : p.kind) },
                        { head: 'e-mail', cell: (p) => p.email && <a href={`mailto:${p.email}`}>{p.email}</a> },
                        { head: 'telephone', nowrap: true, cell: (p) => p.phone },
                        { head: 'where', cell: (p) => p.address.replace(/\n/g, ', ') },
                      ]}
                      rows={parties}
                      id={(p) => p.id}
                    />
                  )}
                  <NextFifty page={data.parties.pageInfo} onNext={(after) => choose({ after }, { push: true })} />
                  <Competences />
                  <OwnRepeatability />
                </section>
                <aside>
                  <h2>The practice</h2>
                  <ul className={`plain-list ${s.members}`}>
                    {data.members.edges.map(({ node }) => (
                      <li key={node.id}>
                        <b>{node.name}</b>
                        <span className="small note">{node.roles.join(', ')}</span>
                        <span className="small note">
                          {[node.qualification, node.email].filter(Boolean).join(' · ')}
                        </span>
                        {node.leftAt && <span className="small note">left {shortDay(node.leftAt)}</span>}
                        {node.leftAt && node.email && (
                          <Allowed to="keepPrivacy">
                            <span>
                              <button type="button" className="plain" onClick={() => setErasing(node.id)}>
                                Erase…<span className="sr"> what is kept of {node.name}</span>
                              </button>
                            </span>
                          </Allowed>
                        )}
                        <Allowed to="manageMembers">
                          <button type="button" className="quiet" onClick={() => edit(node.id)}>
                            Change<span className="sr"> {node.name}</span>
                          </button>
                        </Allowed>
                      </li>
                    ))}
                  </ul>
                  {data.invitations.length > 0 && (
                    <>
                      <h2>Invited</h2>
                      <ul className={`plain-list ${s.members}`}>
                        {data.invitations.map((invitation) => (
                          <li key={invitation.id}>
                            <b>{invitation.name || invitation.email}</b>
                            <span className="small note">
                              {invitation.roles.join(', ')} · until {shortDay(invitation.expiresAt)}
                            </span>
                          </li>
                        ))}
                      </ul>
                    </>
                  )}
                  <p style={{ marginTop: 12 }}>
                    <Allowed to="manageMembers">
                      <button type="button" className="plain" onClick={() => setSheet('invite')}>
                        Invite a member
                      </button>
                    </Allowed>
                  </p>
                </aside>
                <Invented show={viewer?.practice.invented} />
              </>
            )
          }}
        </Answer>
      </main>
      {member && <EditMember key={member.version} member={member} onClose={() => edit(null)} />}
      <Invite open={sheet === 'invite'} onClose={() => setSheet(null)} />
      <EraseMember member={erasing} onClose={() => setErasing(null)} />
      <AddParty open={sheet === 'party'} onClose={() => setSheet(null)} />
    </>
  )
}
