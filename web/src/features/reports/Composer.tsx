import { type ReactNode, useState } from 'react'
import { Link } from 'react-router'
import { useMutation, useQuery } from 'urql'
import { Failed } from '../../app/Fault'
import { Mark } from '../../figure/marks'
import { read } from '../../graphql/gen'
import {
  AddSectionDocument,
  EditSectionDocument,
  OrderSectionsDocument,
  type ReportBodyFragment,
  WordingLineFragmentDoc,
  WordingsDocument,
} from '../../graphql/gen/graphql'
import { unfilled } from '../../model/draft'
import { newId } from '../../model/id'
import { plural } from '../../model/words'
import { SelectField, TextArea, TextField } from '../../ui/Field'
import c from './composer.module.css'
import { Review } from './Review'
import s from './report.module.css'
import { Speaking } from './Speaking'
import { type Draft, type Saving, useDraft } from './useDraft'

const saved: Record<Saving, string> = {
  kept: 'All of it is kept.',
  typing: 'Not sent yet …',
  sending: 'Sending …',
  offline: 'No connection: kept on this device, and sent when there is one.',
  asks: 'Two of you wrote in one place. Decide below; nothing is lost.',
}

/** A draft in the making: words that save themselves, sections from the practice's wording, and what is still open. */
export function Composer({ report, review }: { report: ReportBodyFragment; review: boolean }) {
  const draft = useDraft(report)
  return (
    <section className={c.composer} aria-label="Writing the draft">
      <div className={c.state}>
        <p role="status" className={draft.saving === 'offline' || draft.saving === 'asks' ? c.warn : undefined}>
          {saved[draft.saving]}
        </p>
        <a className="quiet push" href={`/reports/${report.id}/draft.pdf`} target="_blank" rel="noreferrer">
          This draft as PDF
        </a>
      </div>
      <StillOpen report={report} />
      <h2>In your own words</h2>
      <Words
        report={report}
        draft={draft}
        name="inShort"
        label="In short, before what the figures say"
        help="Yours come first; the sentences from the readings follow and are not edited."
      />
      <Words report={report} draft={draft} name="scope" label="What was asked" />
      <Sections report={report} draft={draft} />
      <Words report={report} draft={draft} name="limits" label="Limits beyond what the record shows" />
      <Placeholders report={report} />
      <Speaking />
      <Review report={report} draft={draft} required={review} />
    </section>
  )
}

/** Where something that stands in the way is put right: a page of its own, or a field of this one. */
function wayTo(code: string, thing: string | null | undefined, report: ReportBodyFragment): string {
  const vessel = report.job.vessel.id
  switch (thing?.slice(0, 3)) {
    case 'pas':
      return `/passes/${thing}`
    case 'job':
      return code === 'schedule' || code === 'valuation' ? `/jobs/${thing}/survey` : `/jobs/${thing}`
    case 'vsl':
      return `/vessels/${thing}`
    case 'rec':
      return `/vessels/${vessel}/recommendations`
    case 'sec':
    case 'cmt':
      return `#${thing}`
    case 'rep':
      return '#inShort'
    default:
      return '/settings'
  }
}

function StillOpen({ report }: { report: ReportBodyFragment }) {
  return (
    <>
      <h2>Before it can be issued</h2>
      <ul className={s.stands}>
        {report.inTheWay.map(({ code, text, thing }, k) => (
          <li key={`${code}-${thing}-${k}`}>
            <Mark kind="hard" />
            <Way to={code === 'secondLook' ? '#review' : wayTo(code, thing, report)}>{text}</Way>
          </li>
        ))}
        {report.leftOut > 0 && (
          <li>
            <Mark kind="record" />
            <span>
              {plural(report.leftOut, 'thing')} from earlier jobs left out: those jobs do not allow this client to be
              told.
            </span>
          </li>
        )}
        {report.inTheWay.length === 0 && (
          <li>
            <Mark kind="received" />
            <span>Nothing stands in the way.</span>
          </li>
        )}
      </ul>
    </>
  )
}

function Way({ to, children }: { to: string; children: ReactNode }) {
  if (!to.startsWith('#')) return <Link to={to}>{children}</Link>
  return (
    <a
      href={to}
      onClick={(event) => {
        event.preventDefault()
        const at = document.getElementById(to.slice(1))
        at?.scrollIntoView({ block: 'center' })
        at?.querySelector<HTMLElement>('textarea, input, button')?.focus()
      }}
    >
      {children}
    </a>
  )
}

/** One text of the surveyor's own, with what is said to it: warnings, never changes. */
function Words({
  report,
  draft,
  name,
  where = name,
  label,
  help,
  rows,
}: {
  report: ReportBodyFragment
  draft: Draft
  name: string
  /** As warnings and comments name the part; the field's name where it is the same. */
  where?: string
  label: string
  help?: ReactNode
  rows?: number
}) {
  const field = draft.fields[name] ?? { base: '', text: '' }
  const warnings = report.wordingWarnings.filter((warning) => warning.where === where)
  const gaps = unfilled(field.text, report.placeholders)
  return (
    <div className={c.words} id={name === where ? where : undefined}>
      <TextArea
        label={label}
        help={help}
        value={field.text}
        rows={rows ?? 3}
        error={draft.refused[name]}
        onChange={(event) => draft.type(name, event.target.value)}
        onBlur={() => void draft.flush()}
      />
      {field.theirs !== undefined && (
        <div className={c.clash} role="alert">
          <p>Meanwhile somebody else wrote here:</p>
          <blockquote>{field.theirs || '(nothing: the words were taken out)'}</blockquote>
          <div className="buttons">
            <button type="button" className="plain" onClick={() => draft.decide(name, 'mine')}>
              Keep mine
            </button>
            <button type="button" className="plain" onClick={() => draft.decide(name, 'theirs')}>
              Take theirs
            </button>
          </div>
        </div>
      )}
      {(warnings.length > 0 || gaps.length > 0) && (
        <ul className={c.warnings} aria-label={`Said to ${label}`}>
          {gaps.map((gap) => (
            <li key={gap}>
              <Mark kind="soft" />
              <span>
                Nothing is kept for <b>{`{${gap}}`}</b>.
              </span>
            </li>
          ))}
          {warnings.map(({ code, found, why, instead }, k) => (
            <li key={`${code}-${k}`}>
              <Mark kind="soft" />
              <span>
                <b>“{found}”</b>: {why} Say rather: {instead}.
              </span>
            </li>
          ))}
        </ul>
      )}
    </div>
  )
}

function Sections({ report, draft }: { report: ReportBodyFragment; draft: Draft }) {
  const [ordered, order] = useMutation(OrderSectionsDocument)
  const [edited, edit] = useMutation(EditSectionDocument)
  const list = report.sections
  const move = (from: number, by: -1 | 1) => {
    const ids = list.map(({ id }) => id)
    const [taken] = ids.splice(from, 1)
    if (taken) ids.splice(from + by, 0, taken)
    order({ input: { mutation: newId('mut'), report: report.id, sections: ids } })
  }
  const error = ordered.error ?? edited.error
  return (
    <>
      {error && <Failed error={error} />}
      {list.map((section, k) => (
        <fieldset key={section.id} id={section.id} className={section.leftOut ? `${c.section} ${c.out}` : c.section}>
          <legend className="sr">Section: {section.title}</legend>
          <div className={c.head}>
            {section.leftOut ? (
              <b>{section.title}</b>
            ) : (
              <TextField
                label={`Heading of section ${k + 1}`}
                value={draft.fields[`${section.id}.title`]?.text ?? section.title}
                error={draft.refused[`${section.id}.title`]}
                onChange={(event) => draft.type(`${section.id}.title`, event.target.value)}
                onBlur={() => void draft.flush()}
              />
            )}
            <div className={c.moves}>
              <button type="button" className="quiet" disabled={k === 0} onClick={() => move(k, -1)}>
                up<span className="sr">: {section.title}</span>
              </button>
              <button type="button" className="quiet" disabled={k === list.length - 1} onClick={() => move(k, 1)}>
                down<span className="sr">: {section.title}</span>
              </button>
              <button
                type="button"
                className="quiet"
                onClick={async () => {
                  if (await draft.flush())
                    edit({
                      input: {
                        mutation: newId('mut'),
                        id: section.id,
                        version: section.version,
                        leftOut: !section.leftOut,
                      },
                    })
                }}
              >
                {section.leftOut ? 'bring back' : 'leave out'}
                <span className="sr">: {section.title}</span>
              </button>
            </div>
          </div>
          {section.leftOut ? (
            <p className="small note">Left out of the report; its words are kept.</p>
          ) : (
            <Words
              report={report}
              draft={draft}
              name={`${section.id}.body`}
              where={section.id}
              label={`Text of ${section.title}`}
              rows={5}
            />
          )}
        </fieldset>
      ))}
      <AddSection report={report} />
    </>
  )
}

function AddSection({ report }: { report: ReportBodyFragment }) {
  const [{ data }] = useQuery({ query: WordingsDocument })
  const [from, setFrom] = useState('')
  const [added, add] = useMutation(AddSectionDocument)
  const used = new Set(report.sections.map(({ wording }) => wording))
  const wordings = (read(WordingLineFragmentDoc, data?.wordings) ?? []).filter(
    ({ id, retired }) => !retired && !used.has(id),
  )
  return (
    <div className={c.add}>
      <SelectField label="Another section" value={from} onChange={(event) => setFrom(event.target.value)}>
        <option value="">an empty one</option>
        {wordings.map(({ id, title }) => (
          <option key={id} value={id}>
            {title}
          </option>
        ))}
      </SelectField>
      <button
        type="button"
        className="plain"
        disabled={added.fetching}
        onClick={async () => {
          await add({
            input: {
              mutation: newId('mut'),
              id: newId('sec'),
              report: report.id,
              wording: from || null,
              title: from ? '' : 'Another section',
            },
          })
          setFrom('')
        }}
      >
        Add it
      </button>
      {added.error && <Failed error={added.error} />}
    </div>
  )
}

function Placeholders({ report }: { report: ReportBodyFragment }) {
  return (
    <details className={c.placeholders}>
      <summary>Words in braces, and what stands for them</summary>
      <p className="small note">
        Written in braces they are filled from what is kept, until the report is issued. Add the practice’s own wording
        in <Link to="/settings/wordings">its settings</Link>.
      </p>
      <dl className={s.facts}>
        {report.placeholders.map(({ name, is }) => (
          <div key={name} style={{ display: 'contents' }}>
            <dt>{`{${name}}`}</dt>
            <dd>{is || <i>not known</i>}</dd>
          </div>
        ))}
      </dl>
    </details>
  )
}
