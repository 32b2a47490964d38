import { inkOfStroke, type InkSheet, type Mm } from './ink-sheet.ts'

/** Where a stroke's ink lies: centroid and principal axis weighted by darkness, ends, all in paper mm. */
export interface InkCentre {
  readonly centroidMm: Mm
  /** Unit direction of the axis. */
  readonly axis: Mm
  readonly endsMm: readonly [Mm, Mm]
  /** Share of the ink that no layer hides. */
  readonly visible: number
  /** Mean width: inked area over length, mm. */
  readonly widthMm: number
}

interface Moments {
  readonly weight: number
  readonly hiddenWeight: number
  readonly x: number
  readonly y: number
  readonly xx: number
  readonly xy: number
  readonly yy: number
}

const CELL = 0.05

/** Sums the visible darkness of one stroke over a fine grid; `hides` gives the share of a point that something covers. */
export const findInk = (sheet: InkSheet, stroke: number, hides: (x: number, y: number) => number): InkCentre => {
  const points = sheet.strokes[stroke]?.points ?? []
  const xs = points.map((p) => p[0])
  const ys = points.map((p) => p[1])
  const [x0, x1, y0, y1] = [Math.min(...xs) - 1, Math.max(...xs) + 1, Math.min(...ys) - 1, Math.max(...ys) + 1]
  const m = { weight: 0, hiddenWeight: 0, x: 0, y: 0, xx: 0, xy: 0, yy: 0 }
  for (let y = y0; y <= y1; y += CELL)
    for (let x = x0; x <= x1; x += CELL) {
      const ink = inkOfStroke(sheet, stroke, [x, y])
      if (ink <= 0) continue
      const hidden = hides(x, y)
      const dark = (1 - Math.exp(-ink * meanAbsorb(sheet, stroke))) * (1 - hidden)
      m.hiddenWeight += (1 - Math.exp(-ink * meanAbsorb(sheet, stroke))) * hidden
      m.weight += dark
      m.x += dark * (x - x0)
      m.y += dark * (y - y0)
      m.xx += dark * (x - x0) ** 2
      m.xy += dark * (x - x0) * (y - y0)
      m.yy += dark * (y - y0) ** 2
    }
  return summarise(m, [x0, y0], points)
}

const meanAbsorb = (sheet: InkSheet, stroke: number): number => {
  const [r, g, b] = sheet.strokes[stroke]?.ink.absorb ?? [0, 0, 0]
  return 0.3 * r + 0.59 * g + 0.11 * b
}

const summarise = (m: Moments, origin: Mm, points: readonly Mm[]): InkCentre => {
  const first = points[0] ?? [0, 0]
  const last = points[points.length - 1] ?? first
  const all = m.weight + m.hiddenWeight
  if (m.weight <= 0) return { centroidMm: first, axis: [1, 0], endsMm: [first, last], visible: 0, widthMm: 0 }
  const [mx, my] = [m.x / m.weight, m.y / m.weight]
  const [xx, xy, yy] = [m.xx / m.weight - mx * mx, m.xy / m.weight - mx * my, m.yy / m.weight - my * my]
  const angle = 0.5 * Math.atan2(2 * xy, xx - yy)
  const axis: Mm = [Math.cos(angle), Math.sin(angle)]
  const outward = axis[0] * (last[0] - first[0]) + axis[1] * (last[1] - first[1]) < 0 ? -1 : 1
  return {
    centroidMm: [origin[0] + mx, origin[1] + my],
    axis: [axis[0] * outward, axis[1] * outward],
    endsMm: [first, last],
    visible: m.weight / all,
    widthMm: Math.sqrt(12 * Math.max(0, (xx + yy) / 2 - Math.sqrt(((xx - yy) / 2) ** 2 + xy * xy))),
  }
}
