import type { EnquiryLineFragment } from '../../graphql/gen/graphql'

/** Jobs and what comes before them are two leaves of one book. */
export const jobTabs = [
  { to: '/jobs', name: 'Jobs' },
  { to: '/engagements', name: 'Enquiries', end: false },
]

/** How far an enquiry has come, what waits for us first. */
export const stages = [
  ['accepted', 'Accepted', 'The client has accepted terms; the job is to be booked.'],
  ['enquiry', 'Asked', 'Who, which boat, what stands against it, and what it would cost.'],
  ['quoted', 'Quoted', 'There is a quote: the offer is to be sent, or waits for the client.'],
  ['booked', 'Booked', 'The job has been made.'],
  ['declined', 'Declined', 'Not taken on.'],
  ['closed', 'Closed', 'Nothing came of it.'],
] as const

export function stageOf(e: Pick<EnquiryLineFragment, 'stage' | 'job'>): string {
  return e.job ? 'booked' : e.stage
}

export function boatOf(e: Pick<EnquiryLineFragment, 'vesselName' | 'boatAsWritten'>): string {
  return e.vesselName || (e.boatAsWritten ? `“${e.boatAsWritten}”` : 'not known yet')
}

/** Where on the page something missing is solved. */
export const solvedAt: Record<string, string> = {
  client: '#asks',
  vessel: '#asks',
  kind: '#asks',
  conflict: '#ties',
  quote: '#quote',
  terms: '#offer',
}
