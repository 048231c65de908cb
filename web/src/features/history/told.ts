import { type FragmentType, read } from '../../graphql/gen'
import {
  type ColumnsFragment,
  SentenceFragmentDoc,
  ToldFragmentDoc,
  VerdictFragmentDoc,
  WhyUntoldFragmentDoc,
} from '../../graphql/gen/graphql'
import type { Gate, Verdict } from '../../model/gate'

/** A history with its fragments laid open: what the service says of each pass and of two, ready for screens. */
export function told({ passes, ahead, course, components }: ColumnsFragment) {
  return {
    passes: passes.map((pass) => ({
      ...pass,
      gate: pass.gate ? gateOf(pass.gate) : null,
      notSeen: { ...pass.notSeen, statements: read(SentenceFragmentDoc, pass.notSeen.statements) },
    })),
    ahead: ahead ? { ...ahead, statements: read(SentenceFragmentDoc, ahead.statements) } : null,
    course: course ? read(SentenceFragmentDoc, course.statements) : [],
    toMeasure: components.flatMap(({ model, missing }) =>
      read(WhyUntoldFragmentDoc, missing).map((each) => ({ model, ...each })),
    ),
  }
}

export type Told = ReturnType<typeof told>

function gateOf(masked: FragmentType<typeof ToldFragmentDoc>): Gate {
  const gate = read(ToldFragmentDoc, masked)
  return {
    ...gate,
    hull: verdictOf(gate.hull),
    zones: gate.zones.map((zone) => ({ ...zone, verdict: verdictOf(zone.verdict) })),
    untold: read(WhyUntoldFragmentDoc, gate.untold),
    statements: read(SentenceFragmentDoc, gate.statements),
  }
}

function verdictOf(masked: FragmentType<typeof VerdictFragmentDoc>): Verdict {
  const verdict = read(VerdictFragmentDoc, masked)
  return { ...verdict, untold: read(WhyUntoldFragmentDoc, verdict.untold) }
}
