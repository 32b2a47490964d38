import { convexHull } from '#core/detect/paper/outline'
import { blockVersions, codeMm, placeBlocks } from './blocks.ts'
import type { PagePlace } from './page-number.ts'
import type { SheetVersion } from './sheet-version.ts'
import type { SheetFix } from './sheet-fix.ts'
import type { Place } from './page-size.ts'
import { targetMm, targetPlaces } from './target-places.ts'
import { type Box, boxAbout, boxesMeet, discClears, pointerMm, pointerZone, type Zone } from './zone.ts'

/** Pointer zone and code boxes that a sheet can have by its targets. */
export interface ImpliedDesign {
  /** Radii between which marks are drawn, mm; the widest of what the targets leave open. */
  readonly ringMm: readonly [inner: number, outer: number]
  readonly codes: readonly Box[]
}

const STEP_MM = 2
/** Fewer targets than this say nothing about the pointer's length. */
const LEAST_TARGETS = 8
/** A pointer length that fits clearly: of the targets it has, no more than this share went unseen. */
const MOST_UNSEEN = 0.35

const reach = targetMm.outer + targetMm.quiet

/** A target this far outside of those seen may lie beyond the picture's edge, mm. */
const BEYOND_MM = 2

/** Tells whether a place lies among those given. */
const among = (places: readonly Place[]): ((place: Place) => boolean) => {
  const hull = convexHull(places)
  return ([x, y]) => hull.every(([ax, ay], i) => {
    const [bx, by] = hull[(i + 1) % hull.length] as Place
    return (bx - ax) * (y - ay) - (by - ay) * (x - ax) > -BEYOND_MM * Math.hypot(bx - ax, by - ay)
  })
}

interface Design {
  readonly zone: Zone
  readonly version: SheetVersion
}

/** How well a pointer length explains the targets seen: seen less unseen ones among them; null when one of them could not be there. */
const agreement = (fix: SheetFix, pages: readonly PagePlace[], { zone, version }: Design): number | null => {
  const seen = fix.targets.filter((t) => t.used).map((t) => t.mm)
  if (seen.some((mm) => !discClears(zone, mm, reach))) return null
  const inView = among(seen)
  const printed = pages.flatMap((page) => {
    const { boxes } = placeBlocks(page, zone, version)
    return targetPlaces(page).filter((mm) => {
      const box = boxAbout(mm, 2 * reach, 2 * reach)
      return inView(mm) && discClears(zone, mm, reach) && Math.hypot(...mm) > reach && !boxes.some((other) => boxesMeet(box, other))
    })
  })
  const found = printed.filter((mm) => seen.some((s) => Math.hypot(s[0] - mm[0], s[1] - mm[1]) < 1)).length
  const unseen = printed.length - found
  return unseen > MOST_UNSEEN * printed.length || found < seen.length ? null : found - unseen
}

const codeBoxes = (page: PagePlace, { zone, version }: Design): readonly Box[] => {
  const { code } = placeBlocks(page, zone, version)
  return code === null ? [] : [boxAbout(code, codeMm, codeMm)]
}

/**
 * What the printed targets alone tell of a pointer sheet's design: every place of the zone is free of them and every other has
 * one, so which are printed tells the pointer's length to a step or two.
 * @returns null for a strip, too few targets, or targets that fit no length
 */
export const impliedDesign = (fix: SheetFix): ImpliedDesign | null => {
  if (fix.rig !== 'pointer' || fix.targets.length < LEAST_TARGETS) return null
  const pages = fix.pages.map(({ column, row }): PagePlace => ({ rig: 'pointer', paper: fix.paper, column, row }))
  const count = Math.floor((pointerMm.longest - pointerMm.shortest) / STEP_MM) + 1
  const zones = Array.from({ length: count }, (_, n) => pointerZone(pointerMm.shortest + n * STEP_MM))
  const scored = zones.flatMap((zone) =>
    blockVersions(fix.paper).flatMap((version) => {
      const score = agreement(fix, pages, { zone, version })
      return score === null || zone.kind !== 'ring' ? [] : [{ zone, version, score }]
    }),
  )
  const best = scored.filter((s) => s.score === Math.max(...scored.map(({ score }) => score)))
  if (best.length === 0) return null
  return {
    ringMm: [Math.min(...best.map(({ zone }) => zone.inner)) - STEP_MM, Math.max(...best.map(({ zone }) => zone.numberRing)) + 1],
    codes: best.flatMap(({ zone, version }) => pages.flatMap((page) => codeBoxes(page, { zone, version }))),
  }
}
