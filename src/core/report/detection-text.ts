import { POINTED } from '#core/detect/centre/pointed'
import type { Detection, RectifiedBy } from '#core/detect/detection'
import { mean, rms } from '#core/numeric/moments'

/** What took the perspective out of a photo, in words. */
const rungs: Readonly<Record<Exclude<RectifiedBy, 'none'>, string>> = {
  sheet: 'the targets of the printed sheet',
  paper: 'the corners of the paper',
  corners: 'the four corners given',
  ruler: 'the ticks of a ruler beside the marks',
  edges: 'the two long edges of the strip',
  squares: 'the squares or dots printed on the paper',
  rules: 'the evenly spaced rules of the paper',
  circle: 'a drawn circle seen as an ellipse',
  turn: 'the once- and twice-per-turn terms of the marks',
}

/** By what the perspective was removed, or that it was not. */
export const perspectiveText = (by: RectifiedBy): string => (by === 'none' ? 'perspective not removed: the photo is taken as square-on' : `perspective removed by ${rungs[by]}`)

/** What the paper was taken for, so that a person with another sheet notices. */
const taken = ({ paperTakenMm }: Detection): string => (paperTakenMm === undefined ? '' : `, taken for a sheet of ${paperTakenMm.join(' × ')} mm (say otherwise with --paper)`)

const small = (value: number): string => value.toPrecision(2)

/** The centre's doubt is worth a word of how to lessen it where it bends the angles by more than so many times what each mark is placed to. */
const MATTERS = 2
/** Marks that leave a wider gap than this, deg, are part of a turn. */
const PART = 90

const areAllRound = (marks: Detection['marks']): boolean => {
  const angles = marks.map(({ angleDeg }) => angleDeg ?? 0).sort((a, b) => a - b)
  return angles.every((angle, i) => (angles[i + 1] ?? (angles[0] as number) + 360) - angle < PART)
}

/** How well the shaft's centre is known, what that does to the angles, and what would make it better. */
const centreText = ({ centrePx, centreCovariancePx, centreUDeg, pixelsPerMm, marks }: Detection, uMark: number): string[] => {
  if (centrePx === null) return []
  const place = `shaft centre at ${centrePx.map((v) => v.toFixed(1)).join(', ')} px`
  if (centreUDeg === null || centreCovariancePx === null) return [place]
  const [xx, , yy] = centreCovariancePx
  const uPx = Math.sqrt((xx + yy) / 2)
  const known = pixelsPerMm === null ? `${small(uPx)} px` : `${small(uPx / pixelsPerMm)} mm (${small(uPx)} px)`
  const radiusPx = mean(marks.map(({ p0, p1 }) => Math.hypot((p0[0] + p1[0]) / 2 - centrePx[0], (p0[1] + p1[1]) / 2 - centrePx[1])))
  // Where the photo tells the place better than a hand points, pointing is no cure.
  const pointed = uPx > POINTED * radiusPx ? ', or its place given with --centre' : ''
  const cure = centreUDeg > MATTERS * uMark && !areAllRound(marks) ? `; it is known better with marks all round, the shaft’s end in view, the printed sheet${pointed}` : ''
  return [`${place}, known to ${known}: moving it that far bends the angles by ${small(centreUDeg)}°${cure}`]
}

/** What a photo gave, for the terminal: how many marks, by what the perspective was removed, what is left open. */
export const detectionText = (detection: Detection): string => {
  const { marks, rig } = detection
  const doubtful = marks.filter(({ confidence }) => confidence < 0.5).length
  const doubled = marks.filter(({ multiplicity }) => multiplicity > 1).length
  const u = rms(marks.map((mark) => (rig === 'pointer' ? mark.uOwnDeg : mark.uOwnPosition) ?? 0))
  const unit = rig === 'pointer' ? '°' : marks.some(({ positionMm }) => positionMm !== null) ? ' mm' : ' px'
  const open = detection.rectificationUDeg === null ? '' : rig === 'pointer' ? ` (leaves ${small(detection.rectificationUDeg)}°)` : ` (with the scale, leaves ${small(100 * detection.rectificationUDeg)} % of a distance along the strip)`
  const lines = [
    `${marks.length} marks${doubtful ? `, ${doubtful} of them doubtful` : ''}${doubled ? `, ${doubled} wide enough for more than one` : ''}`,
    `each placed to ${small(u)}${unit} (standard uncertainty)`,
    `${perspectiveText(detection.rectifiedBy)}${taken(detection)}${open}`,
    ...centreText(detection, u),
    ...(detection.strip ? [detection.strip.zero, ...(detection.strip.scale === null ? [] : [`scale from ${detection.strip.scale}`])] : []),
    ...detection.doubts.map((doubt) => `! ${doubt}`),
  ]
  return lines.join('\n')
}
