import { useState } from 'react'
import { useQuery } from 'urql'
import { Answer } from '../../app/Page'
import { useViewer } from '../../app/useViewer'
import { read } from '../../graphql/gen'
import { DiaryFiguresDocument, type FigureRowFragment, FigureRowFragmentDoc } from '../../graphql/gen/graphql'
import { shortDay } from '../../model/dates'
import { capital } from '../../model/words'
import { Invented } from '../../ui/Invented'
import { Notice } from '../../ui/Notice'
import { Running } from '../../ui/Running'
import { Table } from '../../ui/Table'
import { ChangeFigure } from './ChangeFigure'
import s from './settings.module.css'

/** The figures by which the diary proposes and judges visits: the trade's with their tags, the practice's own in their places. */
export default function FiguresPage() {
  const viewer = useViewer()
  const mayEdit = viewer?.roles.includes('principal') ?? false
  const [{ data, error }, again] = useQuery({ query: DiaryFiguresDocument, requestPolicy: 'cache-and-network' })
  const [changing, setChanging] = useState<string | null>(null)
  const figures = data && read(FigureRowFragmentDoc, data.diaryFigures)
  const open = figures?.find(({ code }) => code === changing)
  return (
    <>
      <Running
        title="Figures of the diary"
        page="Figures"
        tabsLabel="Settings"
        tabs={[
          { to: '/settings', name: 'Settings' },
          { to: '/settings/figures', name: 'Figures' },
        ]}
      >
        each with where it comes from
      </Running>
      <main id="main" className="page-body">
        <Answer data={figures} error={error} again={again} lines={12}>
          {(figures) => (
            <>
              {!mayEdit && (
                <Notice>
                  Only a principal changes these. They are here so that you know what a proposal rests on.
                </Notice>
              )}
              <p className="measure note" style={{ padding: '12px 0' }}>
                By these the diary proposes visits and says what stands against one. They are habits of low confidence:
                a change needs its reason, and what stood there before stays on record. Visits in the diary stay where
                they are; proposals from then on say whose figure they rest on. A hull that was read before is proposed
                after as many days ashore as last time.
              </p>
              {groupsOf(figures).map(([group, figures]) => (
                <Group key={group} name={group} figures={figures} onChange={mayEdit ? setChanging : undefined} />
              ))}
              {open && <ChangeFigure key={open.code} figure={open} onClose={() => setChanging(null)} />}
            </>
          )}
        </Answer>
        <Invented show={viewer?.practice.invented} />
      </main>
    </>
  )
}

function groupsOf(figures: readonly FigureRowFragment[]) {
  return [...Map.groupBy(figures, ({ group }) => group)]
}

/** The figures under one head; a reason that all of them share is said once. */
function Group({
  name,
  figures,
  onChange,
}: {
  name: string
  figures: readonly FigureRowFragment[]
  onChange: ((code: string) => void) | undefined
}) {
  const [first] = figures
  const shared = figures.every(({ reason }) => reason === first?.reason)
  return (
    <section>
      <h2>{name}</h2>
      {shared && <p className="note small">{first?.reason}</p>}
      <Table
        caption={name}
        hideCaption
        className={`folds ${s.figures}`}
        columns={[
          {
            head: 'for',
            names: true,
            cell: (f) => (
              <>
                {capital(f.what)}
                {!shared && <span className="small note">{f.reason}</span>}
              </>
            ),
          },
          {
            head: 'counts now',
            short: 'now',
            cell: (f) => (
              <>
                <b>{f.now}</b>
                <span className="small note">{f.own ? 'the practice’s own' : 'the trade’s'}</span>
              </>
            ),
          },
          {
            head: 'of the trade',
            short: 'trade',
            cell: (f) => (
              <>
                <span>{f.trade}</span>
                <span className="small note">{f.tag}</span>
              </>
            ),
          },
          { head: 'said', cell: (f) => <Said figure={f} /> },
          {
            head: '',
            cell: (f) =>
              onChange && (
                <button type="button" className="quiet" onClick={() => onChange(f.code)}>
                  Change<span className="sr">: {f.what}</span>
                </button>
              ),
          },
        ]}
        rows={figures}
        id={(f) => f.code}
      />
    </section>
  )
}

/** What the practice put in the figure's place, the newest first. */
function Said({ figure }: { figure: FigureRowFragment }) {
  const [newest, ...older] = figure.said
  if (!newest) return <span className="small note">never changed</span>
  const line = (said: FigureRowFragment['said'][number]) =>
    `${shortDay(said.at)}${said.by && `, ${said.by}`}: ${said.words || 'the trade’s again'}. ${said.reason}`
  return (
    <span className="small">
      {line(newest)}
      {older.length > 0 && (
        <details>
          <summary>before that</summary>
          <ol className="plain-list">
            {older.map((said) => (
              <li key={said.id}>{line(said)}</li>
            ))}
          </ol>
        </details>
      )}
    </span>
  )
}
