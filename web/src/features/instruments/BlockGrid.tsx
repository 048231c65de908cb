import { type ClipboardEvent, type KeyboardEvent, useMemo, useRef } from 'react'
import { at, type BlockColumn, order, pasteBlock, readCell, redo, type Trail, undo, write } from '../../model/block'
import { capital, plural } from '../../model/words'
import s from './instruments.module.css'

/**
 * A block typed by keyboard alone: Enter walks the order of work, arrows move, a spreadsheet’s block lands on
 * the cell that has the cursor, Ctrl Z takes back one act. Wrong cells keep what was typed and say why.
 */
export function BlockGrid({
  caption,
  rows,
  columns,
  together,
  trail,
  onTrail,
  onSaid,
  onKeep,
}: {
  caption: string
  rows: number
  columns: readonly BlockColumn[]
  /** Walk across all columns spot by spot, as with two instruments; otherwise one hand after the other. */
  together: boolean
  trail: Trail
  onTrail: (next: (now: Trail) => Trail) => void
  onSaid: (what: string) => void
  onKeep: () => void
}) {
  const body = useRef<HTMLTableElement>(null)
  const walk = useMemo(() => order(rows, columns, together), [rows, columns, together])
  const go = (event: KeyboardEvent, to: readonly [number, number] | undefined) => {
    const input = to && body.current?.querySelector<HTMLInputElement>(`[data-cell="${at(to[0], to[1])}"]`)
    if (!input) return
    event.preventDefault()
    input.focus()
    input.select()
    input.scrollIntoView({ block: 'nearest', inline: 'nearest' })
  }
  function onKey(event: KeyboardEvent<HTMLInputElement>, row: number, column: number) {
    const input = event.currentTarget
    const command = event.ctrlKey || event.metaKey
    const key = event.key.toLowerCase()
    const whole = input.selectionStart === 0 && input.selectionEnd === input.value.length
    const start = whole || input.selectionEnd === 0
    const end = whole || input.selectionStart === input.value.length
    if (command && (key === 'y' || (key === 'z' && event.shiftKey))) {
      event.preventDefault()
      onTrail(redo)
    } else if (command && key === 'z') {
      event.preventDefault()
      onTrail(undo)
    } else if (command && (key === 's' || key === 'enter')) {
      event.preventDefault()
      onKeep()
    } else if (key === 'enter') {
      const here = walk.findIndex(([r, c]) => r === row && c === column)
      go(event, walk[here + (event.shiftKey ? -1 : 1)])
    } else if (key === 'arrowdown') go(event, [row + 1, column])
    else if (key === 'arrowup') go(event, [row - 1, column])
    else if (key === 'arrowright' && end) go(event, [row, column + 1])
    else if (key === 'arrowleft' && start) go(event, [row, column - 1])
  }
  function onPaste(event: ClipboardEvent<HTMLInputElement>, row: number, column: number) {
    const text = event.clipboardData.getData('text/plain')
    if (!/[\t\n]/.test(text.trimEnd())) return
    event.preventDefault()
    const done = pasteBlock(trail.now, [row, column], text, rows, columns.length)
    onTrail((now) => write(now, done.cells))
    onSaid(
      `Pasted: ${plural(done.put, 'cell')}${done.outside ? `; ${done.outside} fell outside the block and were left out` : ''}.`,
    )
  }
  const groups = columns.filter(({ group }, k) => columns[k - 1]?.group !== group)
  const double = columns.some(({ head }) => head !== '')
  return (
    <div className={s.scrolls}>
      <table className={s.block} ref={body}>
        <caption>{caption}</caption>
        <thead>
          <tr>
            <th scope="col" rowSpan={double ? 2 : 1}>
              spot
            </th>
            {groups.map(({ group }) => (
              <th
                key={group}
                scope="colgroup"
                colSpan={columns.filter((column) => column.group === group).length}
                className={s.group}
              >
                {group}
              </th>
            ))}
          </tr>
          {double && (
            <tr>
              {columns.map((column) => (
                <th key={column.key} scope="col">
                  {column.head}
                </th>
              ))}
            </tr>
          )}
        </thead>
        <tbody>
          {Array.from({ length: rows }, (_, row) => (
            <tr key={row}>
              <th scope="row">{row + 1}</th>
              {columns.map((column, c) => {
                const text = trail.now[at(row, c)] ?? ''
                const cell = readCell(text, column)
                const wrong = !cell.empty && !cell.ok ? cell.why : undefined
                return (
                  <td
                    key={column.key}
                    className={[columns[c - 1]?.group !== column.group && s.first, wrong && s.wrong]
                      .filter(Boolean)
                      .join(' ')}
                  >
                    <input
                      data-cell={at(row, c)}
                      aria-label={[`spot ${row + 1}`, column.group, column.head && `reading ${column.head}`]
                        .filter(Boolean)
                        .join(', ')}
                      aria-invalid={wrong ? true : undefined}
                      title={wrong && capital(wrong)}
                      inputMode="decimal"
                      autoComplete="off"
                      spellCheck={false}
                      value={text}
                      onFocus={(event) => event.currentTarget.select()}
                      onChange={(event) => {
                        const said = event.target.value
                        onTrail((now) => write(now, { ...now.now, [at(row, c)]: said }))
                      }}
                      onKeyDown={(event) => onKey(event, row, c)}
                      onPaste={(event) => onPaste(event, row, c)}
                    />
                  </td>
                )
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

/** The keys, for whoever has none of them in the fingers yet. */
export function BlockKeys() {
  return (
    <p className="small note no-print">
      <b>Enter</b> goes on in the order of work, <b>arrows</b> move about, <b>Ctrl Z</b> takes back, <b>Ctrl S</b>{' '}
      keeps. A block copied from a spreadsheet is pasted from the cell that has the cursor.
    </p>
  )
}
