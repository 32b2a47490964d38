import type { PaperName, SheetRig } from './page-size.ts'

/** Where a page lies in the joined sheet: columns and rows from the page with the shaft (pointer) or with tick 0 (strip). */
export interface PagePlace {
  readonly rig: SheetRig
  readonly paper: PaperName
  readonly column: number
  readonly row: number
}

/** Pointer pages reach this many columns and rows to each side of the shaft's page. */
export const pointerReach = 2
/** Most pages of a strip. */
export const stripPages = 16

const pointerSide = 2 * pointerReach + 1
const perPaper = pointerSide * pointerSide + stripPages

/** Number of different pages there can be. */
export const pageCount = 2 * perPaper

/** One number per possible page, 0 … pageCount − 1; RangeError for a page beyond reach. */
export const pageNumber = ({ rig, paper, column, row }: PagePlace): number => {
  const first = paper === 'a4' ? 0 : perPaper
  const inReach =
    rig === 'pointer'
      ? Math.abs(column) <= pointerReach && Math.abs(row) <= pointerReach
      : row === 0 && column >= 0 && column < stripPages
  if (!inReach) throw new RangeError(`no ${rig} page at column ${column}, row ${row}`)
  if (rig === 'mirror') return first + pointerSide * pointerSide + column
  return first + (row + pointerReach) * pointerSide + column + pointerReach
}

/** The page that has this number; RangeError outside 0 … pageCount − 1. */
export const pageOfNumber = (number: number): PagePlace => {
  if (!Number.isInteger(number) || number < 0 || number >= pageCount) throw new RangeError(`no page ${number}`)
  const paper = number < perPaper ? 'a4' : 'letter'
  const within = number % perPaper
  const strip = within - pointerSide * pointerSide
  if (strip >= 0) return { rig: 'mirror', paper, column: strip, row: 0 }
  return {
    rig: 'pointer',
    paper,
    column: (within % pointerSide) - pointerReach,
    row: Math.floor(within / pointerSide) - pointerReach,
  }
}
