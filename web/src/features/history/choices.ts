import { flag, oneOf, optional } from '../../model/search'

/** What a reader chose on the resurvey, kept in the address. */
export const choices = {
  show: oneOf(['now', 'then', 'both', 'change', 'map'], 'now'),
  /** Pass that the others are held against; the newest where none is named. */
  against: optional(),
  /** Pass set beside it. */
  beside: optional(),
  place: optional(),
  table: flag(),
}
