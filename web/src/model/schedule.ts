import { newId } from './id'

export interface Item {
  id: string
  name: string
}
export interface Area extends Item {
  items: readonly Item[]
}

/** A schedule as it is typed: an area on a line of its own, its items below it, each begun by a dash. */
export function writeSchedule(areas: readonly Area[]): string {
  return areas.map(({ name, items }) => [name, ...items.map((item) => `- ${item.name}`)].join('\n')).join('\n\n')
}

/**
 * Reads a schedule as it is typed. What keeps its words keeps its id, so that what visits said of it stays with it;
 * other words make another item.
 */
export function readSchedule(text: string, kept: readonly Area[]): Area[] {
  const out: { id: string; name: string; items: Item[] }[] = []
  for (const line of text.split('\n').map((each) => each.trim())) {
    if (!line) continue
    const item = /^[-–•]\s*(.+)$/.exec(line)?.[1]
    if (item === undefined) {
      const same = kept.find(({ name, id }) => name === line && !out.some((area) => area.id === id))
      out.push({ id: same?.id ?? newId('sca'), name: line, items: [] })
      continue
    }
    const area = out.at(-1)
    if (!area) continue
    const before = kept.find(({ id }) => id === area.id)?.items.find(({ name }) => name === item)
    area.items.push({ id: before?.id ?? newId('sci'), name: item })
  }
  return out
}
