import type { Shape } from './shape.ts'
import type { Place } from '#core/detect/sheet/page-size'
import { tickPlaces, ticksOf } from '#core/detect/sheet/target-code'
import { targetMm } from '#core/detect/sheet/target-places'

/** Point of a tick place at a radius about the target's centre, mm, y down; places run counter-clockwise as seen from the right. */
const onPlace = (place: number, radius: number): Place => {
  const angle = (2 * Math.PI * place) / tickPlaces
  return [radius * Math.cos(angle), -radius * Math.sin(angle)]
}

/** What is printed for one target. */
export const targetShapes = (identity: number, centre: Place): readonly Shape[] => {
  const at = ([dx, dy]: Place): Place => [centre[0] + dx, centre[1] + dy]
  const ticks = ticksOf(identity).flatMap((taken, place): Shape[] => {
    if (!taken) return []
    const [from, to] = [at(onPlace(place, targetMm.tickFrom)), at(onPlace(place, targetMm.tickTo))]
    return [{ kind: 'line', role: 'target', from, to, width: targetMm.tickWidth, tone: 0 }]
  })
  return [
    { kind: 'ring', role: 'target', centre, inner: targetMm.inner, outer: targetMm.outer, tone: 0 },
    { kind: 'disc', role: 'target', centre, radius: targetMm.dotRadius, tone: 0 },
    ...ticks,
  ]
}
