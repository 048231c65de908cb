import { type ClipboardEvent, type KeyboardEvent, memo, useCallback, useMemo, useRef } from 'react'
import { parseCell, type Scale, shown } from '../../model/cell'
import type { GridPlace } from '../../model/keep'
import { type Pasted, paste } from '../../model/paste'
import { blocks, neighbour, walkOrder } from '../../model/walk'
import { capital } from '../../model/words'
import s from './grid.module.css'

export interface EntryGridProps {
  places: readonly GridPlace[]
  cells: Readonly<Record<string, string>>
  held: Readonly<Record<string, string>>
  scale: Scale
  readOnly: boolean
  here: string | null
  onHere: (place: string) => void
  onWrite: (name: string, entries: readonly (readonly [string, string])[]) => void
  onPaste: (done: Pasted) => void
  onUndo: () => void
  onRedo: () => void
  onKeep: () => void
}

/**
 * A pass typed by keyboard alone. Enter walks on: the dry places, then all rows of a station before the
 * next. Arrows move about, a pasted block lands on the cell that has the cursor, Ctrl Z takes back one act.
 */
export function EntryGrid(props: EntryGridProps) {
  const { places, cells, held, scale, readOnly, here, onHere, onWrite, onPaste, onUndo, onRedo, onKeep } = props
  const body = useRef<HTMLDivElement>(null)
  const all = useMemo(() => blocks(places), [places])
  const walk = useMemo(() => walkOrder(places), [places])
  const focus = useCallback((place: GridPlace | null | undefined) => {
    const input = place && body.current?.querySelector<HTMLInputElement>(`[data-place="${place.id}"]`)
    if (!input) return
    input.focus()
    input.select()
    input.scrollIntoView({ block: 'nearest', inline: 'nearest' })
  }, [])

  const onKey = useCallback(
    (event: KeyboardEvent<HTMLInputElement>, place: GridPlace) => {
      const input = event.currentTarget
      const at = walk.findIndex(({ id }) => id === place.id)
      const go = (to: GridPlace | null | undefined) => {
        if (!to) return
        event.preventDefault()
        focus(to)
      }
      const whole = input.selectionStart === 0 && input.selectionEnd === input.value.length
      const atStart = input.selectionStart === 0 && input.selectionEnd === 0
      const atEnd = input.selectionStart === input.value.length && input.selectionEnd === input.value.length
      const command = event.ctrlKey || event.metaKey
      if (command && event.key.toLowerCase() === 'z') {
        event.preventDefault()
        if (event.shiftKey) onRedo()
        else onUndo()
      } else if (command && event.key.toLowerCase() === 'y') {
        event.preventDefault()
        onRedo()
      } else if (command && (event.key === 's' || event.key === 'Enter')) {
        event.preventDefault()
        onKeep()
      } else if (event.key === 'Enter') go(walk[at + (event.shiftKey ? -1 : 1)])
      else if (event.key === 'ArrowDown') go(neighbour(all, place, 'down') as GridPlace | null)
      else if (event.key === 'ArrowUp') go(neighbour(all, place, 'up') as GridPlace | null)
      else if (event.key === 'ArrowRight' && (whole || atEnd)) go(neighbour(all, place, 'right') as GridPlace | null)
      else if (event.key === 'ArrowLeft' && (whole || atStart)) go(neighbour(all, place, 'left') as GridPlace | null)
      else if (event.key === 'Escape') {
        onWrite(`put back ${place.label}`, [[place.id, held[place.id] ?? '']])
        input.select()
      }
    },
    [all, walk, held, focus, onUndo, onRedo, onKeep, onWrite],
  )

  const onBlock = useCallback(
    (event: ClipboardEvent<HTMLInputElement>, place: GridPlace) => {
      const text = event.clipboardData.getData('text/plain')
      if (!/[\t\n]/.test(text.trimEnd())) return
      const block = all.find(({ side }) => side === place.side)
      if (!block) return
      event.preventDefault()
      onPaste(paste(block, place, text, scale))
    },
    [all, scale, onPaste],
  )

  return (
    <div className={s.blocks} ref={body}>
      {all.map((block) => (
        <table key={block.side} className={s.grid}>
          <caption>{capital(block.side)}</caption>
          <thead>
            <tr>
              <th scope="col">station</th>
              {block.rows.map((row) => (
                <th scope="col" key={row}>
                  {row === 0 ? 'dry' : `row ${row}`}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {block.lines.map(({ station, cells: line }) => (
              <tr key={station}>
                <th scope="row">{station}</th>
                {line.map((place, i) =>
                  place ? (
                    <Cell
                      key={place.id}
                      place={place}
                      text={cells[place.id] ?? ''}
                      held={held[place.id] ?? ''}
                      scale={scale}
                      readOnly={readOnly}
                      here={here === place.id}
                      onHere={onHere}
                      onWrite={onWrite}
                      onKey={onKey}
                      onBlock={onBlock}
                    />
                  ) : (
                    <td key={i} className={s.none} />
                  ),
                )}
              </tr>
            ))}
          </tbody>
        </table>
      ))}
    </div>
  )
}

interface CellProps {
  place: GridPlace
  text: string
  held: string
  scale: Scale
  readOnly: boolean
  here: boolean
  onHere: (place: string) => void
  onWrite: EntryGridProps['onWrite']
  onKey: (event: KeyboardEvent<HTMLInputElement>, place: GridPlace) => void
  onBlock: (event: ClipboardEvent<HTMLInputElement>, place: GridPlace) => void
}

const Cell = memo(function Cell({
  place,
  text,
  held,
  scale,
  readOnly,
  here,
  onHere,
  onWrite,
  onKey,
  onBlock,
}: CellProps) {
  const cell = parseCell(text, scale)
  const wrong = cell.kind === 'wrong'
  const look = [
    s.cell,
    place.baseline && s.dry,
    wrong && s.wrong,
    text !== held && s.own,
    cell.kind === 'unread' && s.unread,
    cell.kind === 'void' && s.void,
    here && s.here,
  ]
  return (
    <td className={look.filter(Boolean).join(' ')}>
      <input
        data-place={place.id}
        aria-label={`${place.side} ${place.label}${place.baseline ? ', dry place' : ''}`}
        aria-invalid={wrong || undefined}
        title={wrong ? cell.why : undefined}
        inputMode="text"
        autoComplete="off"
        autoCapitalize="none"
        spellCheck={false}
        readOnly={readOnly}
        value={here ? text : face(text, cell)}
        onFocus={(event) => {
          onHere(place.id)
          const input = event.currentTarget
          const untouched = [text, face(text, cell)]
          // A slow device draws after the first keys: what was typed by then is not selected and overwritten.
          requestAnimationFrame(() => untouched.includes(input.value) && input.select())
        }}
        onChange={(event) => onWrite(`typed ${place.label}`, [[place.id, event.target.value]])}
        onKeyDown={(event) => onKey(event, place)}
        onPaste={(event) => onBlock(event, place)}
      />
      {cell.kind === 'read' && cell.follow && <i className={s.follow} aria-hidden="true" />}
    </td>
  )
})

/** Left, a cell shows the median of its placements; a wrong one shows what was typed. */
function face(text: string, cell: ReturnType<typeof parseCell>): string {
  if (cell.kind === 'read') return shown(cell)
  if (cell.kind === 'void') return '×'
  if (cell.kind === 'unread') return ''
  return text
}
