import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { beginMarker, blocksIn, endMarker } from './note-markers.ts'

/** The note's own line end: the first one in it, a plain line feed when it has none. */
const lineEndOf = (text: string): string => /\r\n|\n|\r/.exec(text)?.[0] ?? '\n'

/** What must stand between the note and a block added at its end: an empty line. */
const gapBefore = (text: string, lineEnd: string): string => {
  if (text.replace(/^\uFEFF/, '') === '') return ''
  if (text.endsWith(lineEnd + lineEnd)) return ''
  return /[\r\n]$/.test(text) ? lineEnd : lineEnd + lineEnd
}

/**
 * A note with one block put in or refreshed, every other character as it was: between its own markers where the test is there
 * already, else at the end. Lines of the block take the note's own line end. Unmeasurable when markers are broken or doubled.
 * @param lines the block without its markers; must not hold a marker itself
 */
export const placeBlock = (text: string, key: string, lines: readonly string[]): string | Unmeasurable => {
  const places = blocksIn(text)
  if (isUnmeasurable(places)) return places
  const lineEnd = lineEndOf(text)
  const block = [beginMarker(key), ...lines, endMarker(key)].join(lineEnd)
  const place = places.find((known) => known.key === key)
  return place
    ? `${text.slice(0, place.start)}${block}${text.slice(place.end)}`
    : `${text}${gapBefore(text, lineEnd)}${block}${lineEnd}`
}
