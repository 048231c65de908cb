import type { ReactNode } from 'react'
import { useQuery } from 'urql'
import { useMay } from '../../app/Allowed'
import { FirstStepsDocument, type FirstStepsQuery } from '../../graphql/gen/graphql'
import { Empty, Waiting } from '../../ui/Notice'
import { Step } from '../../ui/Step'

/** Until a practice has its first job: what it needs before one, each a way there. Otherwise, what was given. */
export function Begin({ otherwise }: { otherwise: ReactNode }) {
  const mayManage = useMay('managePractice')
  const [{ data, fetching }] = useQuery({ query: FirstStepsDocument, pause: !mayManage })
  if (fetching) return <Waiting lines={6} />
  if (!data || data.jobs.edges.length > 0) return otherwise
  return (
    <Empty title="Before the first survey">
      <p>In any order. What is missing stops nothing but what needs it, which says so in its place.</p>
      <ul className="plain-list steps">
        {steps(data).map(({ what, done, way }) => (
          <Step key={what} done={done} way={done ? undefined : way}>
            {what}
          </Step>
        ))}
      </ul>
    </Empty>
  )
}

/** What a practice needs, as its record stands. */
export function steps({ viewer: { practice }, engagements, parties, terms, measuring }: FirstStepsQuery) {
  return [
    {
      what: 'The practice’s address, e-mail and time zone: reports and letters carry them',
      done: practice.address !== '' && practice.email !== '' && practice.timeZone !== 'Etc/UTC',
      way: { to: '/settings', name: 'Open the settings' },
    },
    {
      what: 'Terms in the practice’s own words, for a client to accept',
      done: terms.length > 0,
      way: { to: '/settings', name: 'Write them' },
    },
    {
      what: 'An instrument with its scale',
      done: measuring.scales.length > 0,
      way: { to: '/instruments', name: 'Add one' },
    },
    {
      what: 'Its scatter in your hands, measured in half an hour: until then no change can be told from chance',
      done: measuring.scales.some(({ enough }) => enough),
      way: { to: '/instruments/half-hour', name: 'How that is done' },
    },
    { what: 'A yard that lifts', done: parties.edges.length > 0, way: { to: '/people', name: 'Add one' } },
    {
      what: 'An enquiry: from it come quote, terms, job and visits',
      done: engagements.edges.length > 0,
      way: { to: '/engagements/new', name: 'Write one down' },
    },
  ]
}
