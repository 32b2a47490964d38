import { choosePaper } from '#core/detect/paper/paper-size'
import type { Detection } from '#core/detect/detection'
import { type PlaneMap, photoPlane, planeMap, turnedAsSeen } from '#core/detect/plane-map'
import type { Point } from '#core/detect/raster'

/** The map that four corners of a sheet give, angles as seen about the centre; null when they make no sheet. */
export const planeFromCorners = (corners: readonly Point[], { widthPx, heightPx, centrePx }: Detection): PlaneMap | null => {
  const [a, b, c, d] = corners
  if (!a || !b || !c || !d) return null
  const choice = choosePaper([a, b, c, d], { width: widthPx, height: heightPx })
  if (!choice) return null
  return turnedAsSeen(planeMap(choice.homography), centrePx ?? [widthPx / 2, heightPx / 2])
}

/** The map from photo to paper that a detection used; from its corners, else the photo itself, where it does not say. */
export const planeOf = (found: Detection): PlaneMap => found.plane ?? (found.cornersPx && planeFromCorners(found.cornersPx, found)) ?? photoPlane
