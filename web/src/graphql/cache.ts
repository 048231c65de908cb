import type { Cache, CacheExchangeOpts, UpdateResolver } from '@urql/exchange-graphcache'

const embedded = () => null

/** Answers to these questions are asked again where a change may have moved them. */
function forget(cache: Cache, ...fields: string[]) {
  for (const { fieldName, fieldKey } of cache.inspectFields('Query'))
    if (fields.includes(fieldName)) cache.invalidate('Query', fieldKey)
}

const moves =
  (...fields: string[]): UpdateResolver =>
  (_result, _args, cache) =>
    forget(cache, ...fields)

const vesselBook = moves('vessel', 'vessels', 'today')

/** What the cache cannot know from the answers alone. */
export const cacheRules: CacheExchangeOpts = {
  // Things without an id of their own live where they were found. HistoryPass has one, but how a pass
  // stands depends on what it is held against; VesselLine says by which name a search found it.
  keys: {
    ApiKey: (key) => key.id as string,
    AshoreNow: embedded,
    Axis: embedded,
    Baseline: embedded,
    CauseCheckKind: embedded,
    CauseChoice: embedded,
    CauseEntry: embedded,
    CauseLedger: embedded,
    CauseLine: embedded,
    CauseMatter: embedded,
    CauseOutcome: embedded,
    CausePass: embedded,
    CauseSentence: embedded,
    ClientBoat: embedded,
    ClientTask: embedded,
    DepthPairs: embedded,
    DepthRow: embedded,
    Entries: embedded,
    Head: embedded,
    History: embedded,
    HistoryPass: embedded,
    HullNumber: embedded,
    ImportFault: embedded,
    ImportPreview: embedded,
    InstrumentBlockCheck: embedded,
    InstrumentConnection: embedded,
    InstrumentEdge: embedded,
    JobConnection: embedded,
    JobEdge: embedded,
    MemberConnection: embedded,
    MemberEdge: embedded,
    Moved: embedded,
    Outside: embedded,
    PageInfo: embedded,
    PartyConnection: embedded,
    PartyEdge: embedded,
    RecommendationState: embedded,
    ReportConnection: embedded,
    ReportEdge: embedded,
    SharedAddendum: embedded,
    SharedReport: embedded,
    Today: embedded,
    VesselConnection: embedded,
    VesselEdge: embedded,
    VesselLine: embedded,
    Viewer: embedded,
    Waiting: embedded,
    Warning: embedded,
  },
  updates: {
    Mutation: {
      addVessel: vesselBook,
      editVessel: vesselBook,
      addElement: vesselBook,
      addPlaces: vesselBook,
      addPlan: vesselBook,
      addRecommendation: moves('vessel', 'report'),
      judgeCause: moves('causes'),
      recordCauseCheck: moves('causes'),
      withdrawCauseCheck: moves('causes'),
      addJob: moves('jobs', 'today', 'vessel'),
      editJob: moves('jobs', 'today'),
      recordPermission: moves('today'),
      planVisit: moves('job', 'today', 'visits'),
      recordCondition: moves('visit'),
      recordFinding: moves('visit', 'vessel'),
      recordWindow: moves('visit', 'vessel'),
      addPhoto: moves('visit', 'vessel'),
      editPhoto: moves('report'),
      openPass: moves('visit', 'vessel', 'today'),
      closePass: moves('vessel', 'visit', 'today'),
      recordBlockCheck: moves('vessel'),
      addReadings: moves('vessel', 'place', 'today', 'visit'),
      importReadings: moves('vessel', 'place', 'pass', 'visit'),
      supersedeReading: moves('vessel', 'place'),
      voidReading: moves('vessel', 'place'),
      markNotReached: moves('vessel'),
      markFollowUp: moves('vessel'),
      addInstrument: moves('instruments'),
      inviteMember: moves('invitations'),
      addParty: moves('parties'),
      draftReport: moves('reports', 'job', 'vessel'),
      issueReport: moves('reports', 'job', 'vessel', 'today'),
      writeAddendum: moves('today'),
      issueAddendum: moves('reports', 'vessel', 'today'),
      replaceReport: moves('reports', 'report', 'vessel'),
      withdrawReport: moves('reports', 'vessel'),
      createApiKey: moves('apiKeys'),
      revokeApiKey: moves('apiKeys'),
    },
  },
}
