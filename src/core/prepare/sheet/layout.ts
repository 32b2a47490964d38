import { zoneArcs } from './arcs.ts'
import { placeBlocks, shaftRoomMm } from '#core/detect/sheet/blocks'
import { type JoinedSides, joinMarks } from './join-marks.ts'
import { cellMm, pageMm, type PaperName, type Place } from '#core/detect/sheet/page-size'
import { type PagePlace, pageNumber, pointerReach, stripPages } from '#core/detect/sheet/page-number'
import { type SheetVersion, sheetVersion } from '#core/detect/sheet/sheet-version'
import { scaleBarShapes } from './scale-bars.ts'
import type { Shape } from './shape.ts'
import { shaftShapes } from './shaft.ts'
import { stripTicks, tickRoomMm } from './strip-ticks.ts'
import { identityAt } from '#core/detect/sheet/target-code'
import { pageMiddle, targetMm, targetPlaces } from '#core/detect/sheet/target-places'
import { targetShapes } from './target-shapes.ts'
import { type Box, boxAbout, boxClears, boxesMeet, boxReach, discClears, pointerMm, pointerZone, stripZone, type Zone } from '#core/detect/sheet/zone'

/** What decides a sheet's print, all mm; `version`: of the design, by default the one that is printed. */
export type SheetDesign = { readonly paper: PaperName; readonly version?: SheetVersion } & (
  | { readonly rig: 'pointer'; readonly lengthMm: number; readonly shaftHoleMm: number }
  | { readonly rig: 'mirror'; readonly stripMm: number }
)

export interface PrintedTarget {
  readonly identity: number
  readonly centre: Place
}

export interface SheetPage {
  readonly place: PagePlace
  /** The whole paper in the sheet's frame, mm. */
  readonly sheet: Box
  /** What is left of it inside the trim. */
  readonly cell: Box
  readonly targets: readonly PrintedTarget[]
  /** Everything that is printed, code and lines of words at the page's edge aside. */
  readonly shapes: readonly Shape[]
  /** Middle of the printed code, mm; null on a page without room. */
  readonly code: Place | null
}

export interface SheetLayout {
  readonly design: SheetDesign
  readonly zone: Zone
  /** In printing order: row by row from the top left. */
  readonly pages: readonly SheetPage[]
}

export const zoneOf = (design: SheetDesign): Zone =>
  design.rig === 'pointer' ? pointerZone(design.lengthMm) : stripZone(design.stripMm)

const onShaftPage = ({ rig, column, row }: PagePlace): boolean => rig === 'pointer' && column === 0 && row === 0

/** Targets of a page: every place that is clear of the zone, of the shaft and of the page's blocks. */
const targetsOf = (place: PagePlace, zone: Zone, boxes: readonly Box[]): readonly PrintedTarget[] => {
  const reach = targetMm.outer + targetMm.quiet
  const room = zone.kind === 'ring' ? shaftRoomMm + reach : 0
  return targetPlaces(place).flatMap((centre, index) => {
    const box = boxAbout(centre, 2 * reach, 2 * reach)
    const free = discClears(zone, centre, reach) && Math.hypot(...centre) >= room
    if (!free || boxes.some((other) => boxesMeet(box, other))) return []
    return [{ identity: identityAt(pageNumber(place), index), centre }]
  })
}

/** Which sides of a page have a neighbour; the first version cut all four. */
const joinedSides = ({ column, row }: PagePlace, places: readonly PagePlace[], version: SheetVersion): JoinedSides => {
  const beside = (dx: number, dy: number) =>
    places.some((other) => (version === 1 && places.length > 1) || (other.column === column + dx && other.row === row + dy))
  return { left: beside(-1, 0), right: beside(1, 0), top: beside(0, -1), bottom: beside(0, 1) }
}

/** Where no cut is marked: where marks go, and on a strip its ticks and their numbers. */
const uncutZone = (zone: Zone, version: SheetVersion): Zone =>
  zone.kind === 'ring' || version === 1 ? zone : { ...zone, halfHeight: zone.halfHeight + tickRoomMm }

const pageOf = (place: PagePlace, design: SheetDesign, places: readonly PagePlace[]): SheetPage => {
  const { version = sheetVersion } = design
  const zone = zoneOf(design)
  const middle = pageMiddle(place)
  const paper = pageMm(place.rig, place.paper)
  const inside = cellMm(place.rig, place.paper)
  const cell = boxAbout(middle, inside.width, inside.height)
  const blocks = placeBlocks(place, zone, version)
  const targets = targetsOf(place, zone, blocks.boxes)
  const shapes = [
    ...zoneArcs(zone, cell),
    ...joinMarks(uncutZone(zone, version), cell, joinedSides(place, places, version)),
    ...(design.rig === 'mirror' ? stripTicks(cell, design.stripMm) : []),
    ...(design.rig === 'pointer' && onShaftPage(place) ? shaftShapes(design.shaftHoleMm) : []),
    ...(blocks.bars ? scaleBarShapes(blocks.bars) : []),
    ...targets.flatMap(({ identity, centre }) => targetShapes(identity, centre)),
  ]
  return { place, sheet: boxAbout(middle, paper.width, paper.height), cell, targets, shapes, code: blocks.code }
}

const pointerPages = (paper: PaperName, zone: Zone): readonly PagePlace[] => {
  const { width, height } = cellMm('pointer', paper)
  const steps = Array.from({ length: 2 * pointerReach + 1 }, (_, n) => n - pointerReach)
  return steps
    .flatMap((row) => steps.map((column): PagePlace => ({ rig: 'pointer', paper, column, row })))
    .filter((place) => {
      const cell = boxAbout(pageMiddle(place), width, height)
      return onShaftPage(place) || (!boxClears(zone, cell) && zone.kind === 'ring' && boxReach(cell)[0] < zone.outer - 2)
    })
}

const stripPlan = (paper: PaperName, length: number): readonly PagePlace[] =>
  Array.from({ length: Math.max(1, Math.ceil(length / cellMm('mirror', paper).width - 1e-9)) }, (_, column) => ({
    rig: 'mirror',
    paper,
    column,
    row: 0,
  }))

const check = (design: SheetDesign): void => {
  if (design.rig === 'mirror') {
    const most = Math.floor(stripPages * cellMm('mirror', design.paper).width)
    if (!(design.stripMm > 0 && design.stripMm <= most)) throw new RangeError(`strip length 1 to ${most} mm, got ${design.stripMm}`)
    return
  }
  const { shortest, longest } = pointerMm
  if (!(design.lengthMm >= shortest && design.lengthMm <= longest)) {
    throw new RangeError(`pointer length ${shortest} to ${longest} mm, got ${design.lengthMm}`)
  }
}

/** Everything about a sheet but its words: pages, targets, arcs, bars, ticks, all in mm. RangeError beyond its limits. */
export const layoutSheet = (design: SheetDesign): SheetLayout => {
  check(design)
  const zone = zoneOf(design)
  const places = design.rig === 'pointer' ? pointerPages(design.paper, zone) : stripPlan(design.paper, design.stripMm)
  return { design, zone, pages: places.map((place) => pageOf(place, design, places)) }
}
