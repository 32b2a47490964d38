import { cellMm, type Place } from './page-size.ts'
import type { PagePlace } from './page-number.ts'

/** Distance from a cell's edge to the outermost targets' centres, mm. */
const insetMm = 9.5

/** Middle of a page in the sheet's frame, mm; pages of a strip are centred on the line y = 0 and start at tick 0. */
export const pageMiddle = ({ rig, paper, column, row }: PagePlace): Place => {
  const { width, height } = cellMm(rig, paper)
  return rig === 'pointer' ? [column * width, row * height] : [(column + 0.5) * width, 0]
}

const spread = (count: number, span: number): readonly number[] =>
  Array.from({ length: count }, (_, index) => span * (index / (count - 1) - 0.5))

const pointerPlaces = (page: PagePlace): readonly Place[] => {
  const { width, height } = cellMm('pointer', page.paper)
  const [right, bottom] = [width / 2 - insetMm, height / 2 - insetMm]
  const columns = [-right, -44, 0, 44, right]
  return [-bottom, -91, -54, 0, 54, 91, bottom].flatMap((y) => columns.map((x): Place => [x, y]))
}

const stripPlaces = (page: PagePlace): readonly Place[] => {
  const { width, height } = cellMm('mirror', page.paper)
  const columns = spread(9, width - 2 * insetMm)
  return [insetMm - height / 2, -42, 42, height / 2 - insetMm].flatMap((y) => columns.map((x): Place => [x, y]))
}

/**
 * Every place where a page may have a target, sheet mm, in the order that numbers them. Which of them are printed
 * depends on the pointer's length; where they are does not, so a photo can be rectified before its code is read.
 */
export const targetPlaces = (page: PagePlace): readonly Place[] => {
  const [x0, y0] = pageMiddle(page)
  const places = page.rig === 'pointer' ? pointerPlaces(page) : stripPlaces(page)
  return places.map(([x, y]): Place => [x0 + x, y0 + y])
}

/** Measures of a reference target, mm: a dark ring, within it a dial of short radial ticks, a dot in the middle. */
export const targetMm = {
  outer: 7,
  inner: 5.35,
  /** Radii between which a tick runs, and its width. */
  tickFrom: 2.5,
  tickTo: 4.1,
  tickWidth: 1.1,
  dotRadius: 1,
  /** Paper kept bare round the ring. */
  quiet: 1.5,
} as const
