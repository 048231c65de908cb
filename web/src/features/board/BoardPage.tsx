import { useEffect, useMemo, useRef, useState } from 'react'
import { Answer } from '../../app/Page'
import { useSearch } from '../../app/useSearch'
import { useViewer } from '../../app/useViewer'
import { weekDays } from '../../model/board'
import { dayIn, dayMonth, dayNumber, dayOf, longDay, monday, weekdayLong, weekOf } from '../../model/dates'
import { oneOf, optional } from '../../model/search'
import { Choice } from '../../ui/Choice'
import { Invented } from '../../ui/Invented'
import { Running } from '../../ui/Running'
import { useNarrow } from '../../ui/useWidth'
import { MoveSheet } from '../moves/MoveSheet'
import { AddLeave } from './AddLeave'
import { Lately, Unplaced } from './Aside'
import { type Acts, ActsContext, type Taken, type There } from './acts'
import s from './board.module.css'
import { DayList } from './DayList'
import { PlaceVisit } from './PlaceVisit'
import { fitPage } from './print'
import { Season, seasonWeeks } from './Season'
import { type BoardData, useBoard } from './useBoard'
import { Week } from './Week'

const choices = {
  span: oneOf(['day', 'week', 'season'], 'week'),
  by: oneOf(['surveyor', 'yard'], 'surveyor'),
  week: optional(),
  day: optional(),
  who: optional(),
  yard: optional(),
}

/** Who stands ashore where, who goes when, and what is not placed yet: a day, a week or a season. */
export default function BoardPage() {
  const [choice, choose] = useSearch(choices)
  const narrow = useNarrow(700)
  const zone = useViewer()?.practice.timeZone ?? 'UTC'
  const today = dayIn(Date.now(), zone)
  const start = monday(choice.day ?? choice.week ?? today)
  const day = choice.day ?? (today >= start && dayNumber(today) < dayNumber(start) + 7 ? today : start)
  const { board, error, again } = useBoard(start, choice.span === 'season' ? 7 * seasonWeeks : 7)
  const asDay = choice.span === 'day' || (narrow && choice.span === 'week')
  const go = (to: string) =>
    choose(choice.span === 'day' ? { day: to, week: null } : { week: to, day: null }, { push: true })
  const by = (days: number) => dayOf(dayNumber(choice.span === 'day' ? day : start) + days)
  const step = choice.span === 'day' ? 1 : choice.span === 'week' ? 7 : 28
  const end = dayOf(dayNumber(start) + (choice.span === 'season' ? 7 * seasonWeeks : 7) - 1)
  const title = choice.span === 'season' ? 'Season' : choice.span === 'day' ? weekdayLong(day) : `Week ${weekOf(start)}`
  return (
    <>
      <Running
        title={title}
        page="Board"
        right={
          <div className="buttons no-print">
            <Choice
              label="How much of the diary"
              value={choice.span}
              onChange={(span) =>
                choose(span === 'day' ? { span, day } : { span, day: null, week: start }, { push: true })
              }
              options={[
                { value: 'day', name: 'Day' },
                { value: 'week', name: 'Week' },
                { value: 'season', name: 'Season' },
              ]}
            />
            <button type="button" className="plain" onClick={() => go(by(-step))}>
              Before
            </button>
            <button type="button" className="plain" onClick={() => choose({ week: null, day: null }, { push: true })}>
              {choice.span === 'day' ? 'Today' : choice.span === 'week' ? 'This week' : 'This season'}
            </button>
            <button type="button" className="plain" onClick={() => go(by(step))}>
              After
            </button>
          </div>
        }
      >
        {choice.span === 'day' ? `week ${weekOf(day)}` : `${dayMonth(start)} to ${longDay(end)}`} · times of each yard’s
        own zone
      </Running>
      <main id="main">
        {narrow && choice.span === 'week' && (
          <div className={s.strip}>
            <Choice
              label="Day of the week"
              value={day}
              onChange={(next) => choose({ day: next, week: null })}
              options={weekDays(start).map((each) => ({
                value: each,
                name: (
                  <span className={s.stripday}>
                    {new Intl.DateTimeFormat('en-GB', { weekday: 'short', timeZone: 'UTC' }).format(new Date(each))}
                    <b>{Number(each.slice(8))}</b>
                  </span>
                ),
              }))}
            />
          </div>
        )}
        <Answer data={board} error={error} again={again} lines={14}>
          {(board) => (
            <Diary board={board} again={again}>
              <div className={s.page}>
                <aside className="no-print">
                  <Unplaced board={board} />
                  <Lately board={board} onDone={again} />
                </aside>
                <div className={s.main}>
                  <Filters
                    board={board}
                    choice={choice}
                    choose={choose}
                    lanes={!asDay && choice.span === 'week'}
                    again={again}
                  />
                  {asDay ? (
                    <DayList board={filtered(board, choice)} day={day} />
                  ) : (
                    <Scroll key={choice.span}>
                      {choice.span === 'season' ? (
                        <Season board={filtered(board, choice)} first={start} today={today} />
                      ) : (
                        <Week board={filtered(board, choice)} first={start} today={today} by={choice.by} />
                      )}
                    </Scroll>
                  )}
                </div>
                <Invented show={board.invented} />
              </div>
            </Diary>
          )}
        </Answer>
      </main>
    </>
  )
}

/** Leaves in the diary what the address asks for. */
function filtered(board: BoardData, { who, yard }: { who: string | null; yard: string | null }): BoardData {
  if (!who && !yard) return board
  const spells = yard ? board.spells.filter((spell) => spell.yard === yard) : board.spells
  const kept = new Set(spells.map(({ id }) => id))
  return {
    ...board,
    spells,
    surveyors: who ? board.surveyors.filter(({ member }) => member.id === who) : board.surveyors,
    leaves: who ? board.leaves.filter(({ member }) => member === who) : board.leaves,
    visits: board.visits.filter(
      (visit) =>
        (!who || visit.lead === who || visit.people.includes(who)) &&
        (!yard || (visit.spell != null && kept.has(visit.spell))),
    ),
  }
}

function Filters({
  board,
  choice,
  choose,
  lanes,
  again,
}: {
  board: BoardData
  choice: { by: 'surveyor' | 'yard'; who: string | null; yard: string | null }
  choose: (change: { by?: 'surveyor' | 'yard'; who?: string | null; yard?: string | null }) => void
  lanes: boolean
  again: () => void
}) {
  const [away, setAway] = useState(false)
  return (
    <div className={`${s.filters} no-print`}>
      {lanes && (
        <Choice
          label="Lanes"
          value={choice.by}
          onChange={(by) => choose({ by })}
          options={[
            { value: 'surveyor', name: 'By surveyor' },
            { value: 'yard', name: 'By yard' },
          ]}
        />
      )}
      <label>
        <span className="sr">Whose visits</span>
        <select value={choice.who ?? ''} onChange={(event) => choose({ who: event.target.value || null })}>
          <option value="">everybody</option>
          {board.surveyors.map(({ member }) => (
            <option key={member.id} value={member.id}>
              {member.name}
            </option>
          ))}
        </select>
      </label>
      <label>
        <span className="sr">At which yard</span>
        <select value={choice.yard ?? ''} onChange={(event) => choose({ yard: event.target.value || null })}>
          <option value="">every yard</option>
          {board.yards.map(({ yard }) => (
            <option key={yard.id} value={yard.id}>
              {yard.name}
            </option>
          ))}
        </select>
      </label>
      {board.may && (
        <button type="button" className="quiet push" onClick={() => setAway(true)}>
          Who is away
        </button>
      )}
      {away && <AddLeave board={board} onClose={() => setAway(false)} onDone={again} />}
      {lanes && (
        <button type="button" className="quiet" onClick={() => window.print()}>
          Print this week
        </button>
      )}
    </div>
  )
}

/** Lanes wider than the page scroll beside their names; printed they fit one sheet. */
function Scroll({ children }: { children: React.ReactNode }) {
  const ref = useRef<HTMLDivElement>(null)
  useEffect(() => (ref.current ? fitPage(ref.current) : undefined), [])
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a part that scrolls is reached by keyboard
    <section ref={ref} className={s.scroll} tabIndex={0} aria-label="The lanes of the diary">
      {children}
    </section>
  )
}

/** What is taken up and let go again, and the forms that this opens. */
function Diary({ board, again, children }: { board: BoardData; again: () => void; children: React.ReactNode }) {
  const [carried, carry] = useState<Taken | null>(null)
  const [open, setOpen] = useState<{ taken: Taken; there: There } | null>(null)
  const acts = useMemo<Acts>(
    () => ({ may: board.may, carried, carry, put: (taken, there = {}) => setOpen({ taken, there }) }),
    [board.may, carried],
  )
  const shut = () => setOpen(null)
  const taken = open?.taken
  return (
    <ActsContext value={acts}>
      {children}
      {taken?.what === 'job' && <PlaceVisit job={taken.job} there={open?.there} onClose={shut} onDone={again} />}
      {taken?.what === 'visit' && (
        <PlaceVisit
          job={{
            id: taken.visit.job ?? '',
            number: taken.visit.jobNumber,
            kind: taken.visit.jobKind,
            vessel: { id: taken.visit.vessel ?? '', name: taken.visit.vesselName },
          }}
          visit={taken.visit}
          there={open?.there}
          onClose={shut}
          onDone={again}
        />
      )}
      {(taken?.what === 'lift' || taken?.what === 'wash') && (
        <MoveSheet spell={taken.spell} what={taken.what} day={open?.there.day} onClose={shut} onDone={again} />
      )}
    </ActsContext>
  )
}
