import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'

/** Where a block stands in a note, in characters: `start` at the begin marker, `end` behind the end marker. */
export interface NoteBlockPlace {
  readonly key: string
  readonly start: number
  readonly end: number
}

/** A test's name as it stands in a marker: letters, digits, dots, single hyphens; all else as _hex_, so that no comment can end in it. */
export const markerKey = (name: string): string => {
  const key = [...name.trim()]
    .map((sign) =>
      /[A-Za-z0-9.-]/.test(sign) ? sign : sign === ' ' ? '_' : `_${(sign.codePointAt(0) ?? 0).toString(16)}_`,
    )
    .join('')
    .replaceAll('--', '-_2d_')
  return key === '' ? 'test' : key
}

export const beginMarker = (key: string): string =>
  `<!-- stepwitness begin ${key} (kept by the tool up to its end line; what you write in between is replaced) -->`
export const endMarker = (key: string): string => `<!-- stepwitness end ${key} -->`

const anyMarker = /<!--\s*stepwitness\b(?!\s+figures\b)[^\r\n]*?(?:-->|$)/gim
const wholeMarker = /^<!-- stepwitness (begin|end) ([A-Za-z0-9._-]+)(?: \([^)>]*\))? -->$/

const lineOf = (text: string, index: number): string => `line ${text.slice(0, index).split(/\r\n|\n|\r/).length}`

const broken = (what: string, text: string, index: number): Unmeasurable =>
  unmeasurable(
    `${what}; the note was left as it is`,
    lineOf(text, index),
    'restore the pair of marker lines, or delete both together with what stands between them',
  )

/**
 * Every block of ours in a note, in order. Unmeasurable, naming the line, when a marker is damaged, stands alone, is nested in
 * another block, or when a test has more than one pair.
 */
export const blocksIn = (text: string): readonly NoteBlockPlace[] | Unmeasurable => {
  const places: NoteBlockPlace[] = []
  let open: { readonly key: string; readonly start: number } | null = null
  for (const match of text.matchAll(anyMarker)) {
    const [, kind, key] = wholeMarker.exec(match[0]) ?? []
    if (kind === undefined || key === undefined) return broken('a marker line is damaged', text, match.index)
    if (kind === 'begin') {
      if (open) return broken(`the block "${open.key}" has no end before another begins`, text, match.index)
      if (places.some((place) => place.key === key)) return broken(`there are two blocks "${key}"`, text, match.index)
      open = { key, start: match.index }
    } else {
      if (open?.key !== key) return broken(`the end of "${key}" has no begin`, text, match.index)
      places.push({ key, start: open.start, end: match.index + match[0].length })
      open = null
    }
  }
  return open ? broken(`the block "${open.key}" has no end`, text, open.start) : places
}
