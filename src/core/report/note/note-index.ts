import { parseDocument } from 'yaml'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { figuresInBlock, type NoteFigures } from './note-figures.ts'
import { blocksIn } from './note-markers.ts'

/** A note as read: its path in the folder, with / between the parts. */
export interface NoteText {
  readonly path: string
  readonly text: string
}

/** One motor test of a note, or the note alone when it holds none. */
export interface IndexRow {
  readonly path: string
  /** From the front matter; the motor's name of the test, or the file's, when it has none. */
  readonly part: string
  readonly foundIn: string
  readonly usedIn: string
  readonly figures: NoteFigures | null
}

export interface NoteIndex {
  readonly kind: 'note index'
  readonly rows: readonly IndexRow[]
  /** Notes that could be read only in part, each with what to do. */
  readonly warnings: readonly string[]
}

type FrontMatter = Readonly<Record<string, unknown>>

/** Front matter between two --- lines at the very start; empty when there is none, null when it is no YAML mapping. */
export const frontMatterOf = (text: string): FrontMatter | null => {
  const [, yaml] = /^\uFEFF?---[ \t]*(?:\r\n|\n|\r)([\s\S]*?)(?:\r\n|\n|\r)---[ \t]*(?:\r\n|\n|\r|$)/.exec(text) ?? []
  if (yaml === undefined) return {}
  const document = parseDocument(yaml, { strict: false })
  if (document.errors.length > 0) return null
  try {
    const value: unknown = document.toJS({ maxAliasCount: 10 })
    return typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as FrontMatter) : {}
  } catch {
    return null
  }
}

const word = (matter: FrontMatter, key: string): string => {
  const value = Object.hasOwn(matter, key) ? matter[key] : null
  return typeof value === 'string' || typeof value === 'number' ? String(value) : ''
}

const rowsOf = ({ path, text }: NoteText): NoteIndex => {
  const matter = frontMatterOf(text)
  const places = blocksIn(text)
  const blocks = isUnmeasurable(places)
    ? []
    : places
        .map(({ start, end }) => text.slice(start, end))
        .filter((block) => block.includes('<!-- stepwitness figures'))
        .map(figuresInBlock)
  const known = blocks.filter((figures) => figures !== null)
  const row = (figures: NoteFigures | null): IndexRow => ({
    path,
    part: word(matter ?? {}, 'part') || figures?.motor || path.replace(/^.*\//, '').replace(/\.md$/i, ''),
    foundIn: word(matter ?? {}, 'found-in'),
    usedIn: word(matter ?? {}, 'used-in'),
    figures,
  })
  return {
    kind: 'note index',
    rows: known.length > 0 ? known.map(row) : [row(null)],
    warnings: [
      ...(matter === null ? [`${path}: its front matter is not YAML and was left out`] : []),
      ...(isUnmeasurable(places)
        ? [
            `${path}: ${places.where}: ${places.what.replace('; the note was left as it is', '')}, so its tests were left out`,
          ]
        : []),
      ...(known.length < blocks.length
        ? [`${path}: a block holds no figures that can be read; refresh it from its result`]
        : []),
    ],
  }
}

/** A folder of notes as an index, by path; one row per motor test. Notes that are not about a motor and hold no test are kept too. */
export const noteIndex = (notes: readonly NoteText[]): NoteIndex => {
  const parts = notes.toSorted((a, b) => (a.path < b.path ? -1 : 1)).map(rowsOf)
  return {
    kind: 'note index',
    rows: parts.flatMap(({ rows }) => rows),
    warnings: parts.flatMap(({ warnings }) => warnings),
  }
}
