/** The places of a boat as they are named: side and label by ordinal, slot k for the place of ordinal k + 1. */
export interface PlaceNames {
  ids: readonly string[]
  labels: readonly string[]
  sides: readonly string[]
}

/** "port 13/3" for the place of an ordinal; empty where there is none. */
export function placeName(places: PlaceNames, ordinal: number | null | undefined): string {
  const label = ordinal ? places.labels[ordinal - 1] : undefined
  return ordinal && label ? `${places.sides[ordinal - 1]} ${label}` : ''
}

export type Places = { ok: true; ordinals: number[] } | { ok: false; why: string }

/**
 * Reads places as somebody writes them: "port 13/3, 13/4; starboard 2/1". A side holds until another is named.
 * What is not a place of this boat is named, so that it can be put right.
 */
export function parsePlaces(text: string, places: PlaceNames): Places {
  const ordinals: number[] = []
  let side = ''
  for (const word of text
    .toLowerCase()
    .split(/[\s,;]+/)
    .filter(Boolean)) {
    const named = ['port', 'starboard', 'centre'].find(
      (each) => each === word || (word.length === 1 && each[0] === word),
    )
    if (named) {
      side = named
      continue
    }
    const found = places.labels.flatMap((label, k) =>
      label.toLowerCase() === word && (!side || places.sides[k] === side) ? [k + 1] : [],
    )
    if (found.length === 0)
      return { ok: false, why: `There is no place ${[side, word].filter(Boolean).join(' ')} on this boat.` }
    if (found.length > 1)
      return { ok: false, why: `There is a ${word} on both sides. Write port or starboard before it.` }
    if (found[0] && !ordinals.includes(found[0])) ordinals.push(found[0])
  }
  return { ok: true, ordinals }
}
