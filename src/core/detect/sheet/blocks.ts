import type { PagePlace } from './page-number.ts'
import type { Place } from './shape.ts'
import { pageMiddle } from './target-places.ts'
import { type Box, boxAbout, boxClears, boxesMeet, boxReach, type Zone } from './zone.ts'

/** Side of the printed code, mm, without its quiet border. */
export const codeMm = 28
const codeQuietMm = 3

/** Width and height kept for the two scale bars and their words, mm. */
export const barsMm = { width: 114, height: 11 } as const

/** Paper kept free for the shaft and the motor's boss, mm. */
export const shaftRoomMm = 30

const pointerCodePlaces: readonly Place[] = [
  [0, -112], [0, 112], [0, -120], [0, 120], [-66, -72], [66, -72], [-66, 72], [66, 72], [0, -72], [0, 72], [-66, 0], [66, 0], [0, 26], [0, -26],
  [-66, -26], [66, -26], [-66, 26], [66, 26],
]
const pointerBarPlaces: readonly Place[] = [[0, 106], [0, -106], [0, 114], [0, -114], [0, 72], [0, -72], [0, 26], [0, -26]]

const at = (page: PagePlace, [x, y]: Place): Place => {
  const [x0, y0] = pageMiddle(page)
  return [x0 + x, y0 + y]
}

/** Places where a page's code may be, sheet mm, the likelier first; a reader without the set-up tries them in turn. */
export const codePlaces = (page: PagePlace): readonly Place[] => {
  const places: readonly Place[] = page.rig === 'pointer' ? pointerCodePlaces : [[0, -72]]
  return places.map((place) => at(page, place))
}

const barPlaces = (page: PagePlace): readonly Place[] => {
  const places: readonly Place[] = page.rig === 'pointer' ? pointerBarPlaces : [[0, 72]]
  return places.map((place) => at(page, place))
}

/** Where the blocks of a page went; null where no place was free of the marking zone. */
export interface Blocks {
  readonly code: Place | null
  readonly bars: Place | null
  readonly boxes: readonly Box[]
}

const clears = (zone: Zone, box: Box): boolean =>
  boxClears(zone, box) && (zone.kind === 'band' || boxReach(box)[0] >= shaftRoomMm)

/** Puts the code and the scale bars of a page where no mark will be. */
export const placeBlocks = (page: PagePlace, zone: Zone): Blocks => {
  const side = codeMm + 2 * codeQuietMm
  const code = codePlaces(page).find((place) => clears(zone, boxAbout(place, side, side))) ?? null
  const codeBoxes = code ? [boxAbout(code, side, side)] : []
  const barBox = (place: Place) => boxAbout(place, barsMm.width, barsMm.height)
  const free = (box: Box) => clears(zone, box) && !codeBoxes.some((other) => boxesMeet(box, other))
  const bars = barPlaces(page).find((place) => free(barBox(place))) ?? null
  return { code, bars, boxes: bars ? [...codeBoxes, barBox(bars)] : codeBoxes }
}
