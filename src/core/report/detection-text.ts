import type { Detection, RectifiedBy } from '#core/detect/detection'
import { rms } from '#core/numeric/moments'

/** What took the perspective out of a photo, in words. */
export const rungs: Readonly<Record<RectifiedBy, string>> = {
  sheet: 'the targets of the printed sheet',
  paper: 'the corners of the paper',
  corners: 'the four corners given',
  ruler: 'the ticks of a ruler beside the marks',
  edges: 'the two long edges of the strip',
  squares: 'the squares or dots printed on the paper',
  rules: 'the evenly spaced rules of the paper',
  circle: 'a drawn circle seen as an ellipse',
  turn: 'the once- and twice-per-turn terms of the marks',
  none: 'nothing: the photo is taken as square-on',
}

/** What the paper was taken for, so that a person with another sheet notices. */
const taken = ({ paperTakenMm }: Detection): string => (paperTakenMm === undefined ? '' : `, taken for a sheet of ${paperTakenMm.join(' × ')} mm (say otherwise with --paper)`)

const small = (value: number): string => value.toPrecision(2)

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
    `perspective removed by ${rungs[detection.rectifiedBy]}${taken(detection)}${open}`,
    ...(detection.centrePx ? [`shaft centre at ${detection.centrePx.map((v) => v.toFixed(1)).join(', ')} px${detection.centreUDeg === null ? '' : ` (its doubt is worth ${small(detection.centreUDeg)}°)`}`] : []),
    ...(detection.strip ? [detection.strip.zero, ...(detection.strip.scale === null ? [] : [`scale from ${detection.strip.scale}`])] : []),
    ...detection.doubts.map((doubt) => `! ${doubt}`),
  ]
  return lines.join('\n')
}
