import type { PagePlace } from './page-number.ts'
import { type SheetVersion, sheetVersion, sheetVersions } from './sheet-version.ts'
import type { PaperName, Place } from './page-size.ts'
import { pageMiddle } from './target-places.ts'
import { type Box, boxAbout, boxClears, boxesMeet, boxReach, type Zone } from './zone.ts'

/** Side of the printed code, mm, without its quiet border. */
export const codeMm = 28
const codeQuietMm = 3

/** Width and height kept for the two scale bars and their words, mm. */
export const barsMm = { width: 114, height: 11 } as const

/** Paper kept free for the shaft and the motor's boss, mm. */
export const shaftRoomMm = 30

/** Beyond the ring of a pointer that fills the page: on A4 above it, on the shorter Letter, where that is in the trim, beside a corner's target. */
const beyondRing = (paper: PaperName, version: SheetVersion): readonly Place[] =>
  paper === 'a4' || version === 1 ? [[0, -120], [0, 120]] : [[62.5, -112.5], [-62.5, -112.5], [62.5, 112.5], [-62.5, 112.5]]

const pointerCodePlaces = (paper: PaperName, version: SheetVersion): readonly Place[] => [
  [0, -112], [0, 112], ...beyondRing(paper, version), [-66, -72], [66, -72], [-66, 72], [66, 72], [0, -72], [0, 72], [-66, 0], [66, 0], [0, 26], [0, -26],
  [-66, -26], [66, -26], [-66, 26], [66, 26],
]
const pointerBarPlaces: readonly Place[] = [[0, 106], [0, -106], [0, 114], [0, -114], [0, 72], [0, -72], [0, 26], [0, -26]]

const at = (page: PagePlace, [x, y]: Place): Place => {
  const [x0, y0] = pageMiddle(page)
  return [x0 + x, y0 + y]
}

/** Versions of the sheet that differ in where a page's code and bars, and so its targets, may be. */
export const blockVersions = (paper: PaperName): readonly SheetVersion[] => (paper === 'a4' ? [sheetVersion] : sheetVersions)

const placesIn = (page: PagePlace, version: SheetVersion): readonly Place[] => {
  const places: readonly Place[] = page.rig === 'pointer' ? pointerCodePlaces(page.paper, version) : [[0, -72]]
  return places.map((place) => at(page, place))
}

/** Places where a page's code may be in any version, sheet mm, the likelier first; a reader without the set-up tries them in turn. */
export const codePlaces = (page: PagePlace): readonly Place[] => {
  const places = [...blockVersions(page.paper)].reverse().flatMap((version) => placesIn(page, version))
  return places.filter(([x, y], n) => places.findIndex(([a, b]) => a === x && b === y) === n)
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

/** Puts the code and the scale bars of a page where no mark will be; `version`: the sheet's design, by default the one that is printed. */
export const placeBlocks = (page: PagePlace, zone: Zone, version: SheetVersion = sheetVersion): Blocks => {
  const side = codeMm + 2 * codeQuietMm
  const code = placesIn(page, version).find((place) => clears(zone, boxAbout(place, side, side))) ?? null
  const codeBoxes = code ? [boxAbout(code, side, side)] : []
  const barBox = (place: Place) => boxAbout(place, barsMm.width, barsMm.height)
  const free = (box: Box) => clears(zone, box) && !codeBoxes.some((other) => boxesMeet(box, other))
  const bars = barPlaces(page).find((place) => free(barBox(place))) ?? null
  return { code, bars, boxes: bars ? [...codeBoxes, barBox(bars)] : codeBoxes }
}
