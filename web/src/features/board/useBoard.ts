import { useCallback } from 'react'
import { useQuery } from 'urql'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import {
  BoardPageDocument,
  type BoardPageQuery,
  type BoardSpellRowFragment,
  BoardSpellRowFragmentDoc,
  type BoardVisitRowFragment,
  BoardVisitRowFragmentDoc,
  type MadeMoveRowFragment,
  MadeMoveRowFragmentDoc,
} from '../../graphql/gen/graphql'
import { dayNumber, dayOf, instantOf } from '../../model/dates'

type Raw = BoardPageQuery['board']

/** The diary of a span, its visits and times ashore unmasked and indexed. */
export interface BoardData extends Omit<Raw, 'visits' | 'spells' | 'moves'> {
  visits: readonly BoardVisitRowFragment[]
  spells: readonly BoardSpellRowFragment[]
  moves: readonly MadeMoveRowFragment[]
  spellOf: (visit: BoardVisitRowFragment) => BoardSpellRowFragment | undefined
  yardName: (id: string | null | undefined) => string
  memberName: (id: string | null | undefined) => string
  instrumentName: (id: string) => string
  may: boolean
  invented: boolean
}

/**
 * Reads so many days from one on, and one more on each side: weeks are cut in the practice's zone, and at a yard
 * beyond the date line the day has begun already, or not yet ended.
 */
export function useBoard(first: string, days: number) {
  const zone = useViewer()?.practice.timeZone
  const at = (day: number) => instantOf(dayOf(dayNumber(first) + day), '00:00', zone ?? 'UTC')
  const [{ data, error }, ask] = useQuery({
    query: BoardPageDocument,
    variables: { from: at(-1), to: at(days + 1) },
    pause: !zone,
    requestPolicy: 'cache-and-network',
  })
  const again = useCallback(() => ask({ requestPolicy: 'network-only' }), [ask])
  return { board: data ? unfold(data) : null, error, again }
}

function unfold({ board, viewer }: BoardPageQuery): BoardData {
  const spells = read(BoardSpellRowFragmentDoc, board.spells)
  const byId = new Map(spells.map((spell) => [spell.id, spell]))
  const yards = new Map(board.yards.map(({ yard }) => [yard.id, yard.name]))
  const members = new Map(board.surveyors.map(({ member }) => [member.id, member.name]))
  const instruments = new Map(board.instruments.map(({ id, name }) => [id, name]))
  return {
    ...board,
    spells,
    visits: read(BoardVisitRowFragmentDoc, board.visits).filter(({ state }) => state !== 'cancelled'),
    moves: read(MadeMoveRowFragmentDoc, board.moves),
    spellOf: ({ spell }) => (spell ? byId.get(spell) : undefined),
    yardName: (id) => (id ? (yards.get(id) ?? '') : ''),
    memberName: (id) => (id ? (members.get(id) ?? 'somebody who left') : 'nobody yet'),
    instrumentName: (id) => instruments.get(id) ?? '',
    may: viewer.may.includes('book jobs, haul-outs and visits'),
    invented: viewer.practice.invented,
  }
}
