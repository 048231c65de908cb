import { flag, oneOf, optional } from '../../model/search'

const shows = ['now', 'then', 'both', 'change', 'map'] as const
export type Show = (typeof shows)[number]

/** What a reader chose on the resurvey, kept in the address. */
export const choices = {
  show: oneOf(shows, 'now'),
  /** Pass that the others are held against; the newest where none is named. */
  against: optional(),
  /** Pass set beside it. */
  beside: optional(),
  place: optional(),
  table: flag(),
  /** Drawn so large that every figure is read, and moved about in. */
  close: flag(),
  /** The sentence whose evidence lies open. */
  says: optional(),
}
