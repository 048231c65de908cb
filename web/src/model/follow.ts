/** From which states each state may be reached; domain/practice stateFrom is the twin that decides. */
const from: Readonly<Record<string, readonly string[]>> = {
  acknowledged: ['issued', 'reopened'],
  agreed: ['issued', 'acknowledged', 'declined', 'reopened'],
  declined: ['issued', 'acknowledged', 'agreed', 'reopened'],
  'in hand': ['issued', 'acknowledged', 'agreed', 'reopened'],
  'claimed done': ['issued', 'acknowledged', 'agreed', 'in hand', 'reopened', 'not seen'],
  'seen done': ['issued', 'acknowledged', 'agreed', 'in hand', 'claimed done', 'reopened', 'not seen'],
  'not seen': ['claimed done', 'in hand'],
  closed: ['issued', 'seen done', 'declined', 'acknowledged'],
  reopened: ['closed', 'seen done', 'declined'],
}

/** Where a recommendation may go from here. */
export const nextStates = (state: string) => Object.keys(from).filter((to) => from[to]?.includes(state))

/** Steps that stay with their reason. */
export const needsReason = (state: string) => ['declined', 'closed', 'reopened', 'not seen'].includes(state)
