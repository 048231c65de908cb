/** What a viewer may be let do, in the words of domain/permission.go; a test holds the two equal. */
export const actions = {
  readDiary: 'read the diary of haul-outs',
  manageMembers: 'invite and change members',
  writePeople: 'write people and organisations',
  writeTools: 'write instruments and scales',
  writeVessel: 'write vessels, places and plans',
  book: 'book jobs, haul-outs and visits',
  writeVisit: 'write what a visit found',
  writeReport: 'write a report',
  recommend: 'write recommendations',
  judgeCauses: 'judge causes',
  issue: 'issue a report',
  share: 'share a report',
  signGates: 'sign a coating gate',
  readMoney: 'read invoices and what is owed',
  writeMoney: 'write invoices and note payments',
  readFigures: 'read the figures of the practice',
  managePractice: "change the practice's settings",
  keepPrivacy: 'export and erase what is kept about people',
  holdFiles: 'hold a file',
  liftHolds: 'lift a hold',
} as const
export type Action = keyof typeof actions
