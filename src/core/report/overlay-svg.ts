import type { DetectedMark, Detection } from '#core/detect/detection'
import type { Point } from '#core/detect/raster'

/** Below this a mark is listed, and drawn, as doubtful. */
export const DOUBTFUL = 0.5

const TAKEN = '#0a7d2c'
const DOUBT = '#c2410c'
const REFUSED = '#475569'
const FRAME = '#1d4ed8'

/** Drawing scale: everything is a multiple of this many px, so that an overlay reads alike at any size. */
const unitOf = ({ widthPx, heightPx }: Detection): number => Math.max(0.8, Math.max(widthPx, heightPx) / 1500)

const at = (value: number): string => (value + 0.5).toFixed(2)

const line = (p: Point, q: Point, style: string): string => `<line x1="${at(p[0])}" y1="${at(p[1])}" x2="${at(q[0])}" y2="${at(q[1])}" ${style}/>`

const text = ([x, y]: Point, words: string, { size, colour, anchor = 'middle' }: { readonly size: number; readonly colour: string; readonly anchor?: string }): string =>
  `<text x="${at(x)}" y="${at(y)}" font-family="DejaVu Sans" font-size="${size.toFixed(1)}" text-anchor="${anchor}" fill="${colour}" stroke="#ffffff" stroke-width="${(size * 0.18).toFixed(2)}" paint-order="stroke">${words}</text>`

/** Unit vector from the first end to the second, and its left-hand normal. */
const frameOf = ({ p0, p1 }: Pick<DetectedMark, 'p0' | 'p1'>) => {
  const length = Math.hypot(p1[0] - p0[0], p1[1] - p0[1]) || 1
  const u: Point = [(p1[0] - p0[0]) / length, (p1[1] - p0[1]) / length]
  return { u, n: [-u[1], u[0]] as Point }
}

/** A taken mark: full line with a bar across each end. Doubtful: broken line with an open ring at each end. */
const markShape = (mark: DetectedMark, unit: number): string => {
  const doubtful = mark.confidence < DOUBTFUL
  const colour = doubtful ? DOUBT : TAKEN
  const { u, n } = frameOf(mark)
  const body = line(mark.p0, mark.p1, `stroke="${colour}" stroke-width="${unit.toFixed(2)}"${doubtful ? ` stroke-dasharray="${(3 * unit).toFixed(1)} ${(2 * unit).toFixed(1)}"` : ''}`)
  const ends = [[mark.p0, -1], [mark.p1, 1]] as const
  return body + ends.map(([[x, y], side]) => {
    if (doubtful) return `<circle cx="${at(x + side * u[0] * 3 * unit)}" cy="${at(y + side * u[1] * 3 * unit)}" r="${(3 * unit).toFixed(2)}" fill="none" stroke="${colour}" stroke-width="${unit.toFixed(2)}"/>`
    const half = Math.max(2 * unit, 0.9 * mark.widthPx)
    return line([x - n[0] * half, y - n[1] * half], [x + n[0] * half, y + n[1] * half], `stroke="${colour}" stroke-width="${unit.toFixed(2)}"`)
  }).join('')
}

/** Every n-th mark carries its number, so that neighbouring numbers do not run into each other. */
const numbers = ({ marks, rig }: Detection, unit: number): string => {
  const size = 11 * unit
  let last: Point | null = null
  return marks.map((mark, index) => {
    const { u } = frameOf(mark)
    const place: Point = [mark.p1[0] + u[0] * 14 * unit, mark.p1[1] + u[1] * 14 * unit + size * 0.36]
    const crowded = last !== null && Math.hypot(place[0] - last[0], place[1] - last[1]) < 2.2 * size
    if (crowded && mark.confidence >= DOUBTFUL) return ''
    last = place
    return text(place, `${index + 1}${mark.multiplicity > 1 ? ` ×${mark.multiplicity}` : ''}`, { size, colour: mark.confidence < DOUBTFUL ? DOUBT : rig === 'mirror' ? FRAME : TAKEN })
  }).join('')
}

const refusedShape = ({ p0, p1 }: Detection['refused'][number], unit: number): string => {
  const m: Point = [(p0[0] + p1[0]) / 2, (p0[1] + p1[1]) / 2]
  const r = 2 * unit
  const style = `stroke="${REFUSED}" stroke-width="${(0.6 * unit).toFixed(2)}"`
  return line(p0, p1, `${style} stroke-dasharray="${unit.toFixed(1)} ${unit.toFixed(1)}"`) + line([m[0] - r, m[1] - r], [m[0] + r, m[1] + r], style) + line([m[0] - r, m[1] + r], [m[0] + r, m[1] - r], style)
}

const centreShape = ([x, y]: Point, unit: number): string => {
  const style = `stroke="${FRAME}" stroke-width="${unit.toFixed(2)}" fill="none"`
  const arms = [[1, 0], [-1, 0], [0, 1], [0, -1]] as const
  return `<circle cx="${at(x)}" cy="${at(y)}" r="${(8 * unit).toFixed(1)}" ${style}/>${arms.map(([dx, dy]) => line([x + dx * 3 * unit, y + dy * 3 * unit], [x + dx * 16 * unit, y + dy * 16 * unit], style)).join('')}`
}

const cornersShape = (corners: readonly Point[], unit: number): string =>
  `<polygon points="${corners.map((p) => `${at(p[0])},${at(p[1])}`).join(' ')}" fill="none" stroke="${FRAME}" stroke-width="${(0.7 * unit).toFixed(2)}" stroke-dasharray="${(8 * unit).toFixed(1)} ${(5 * unit).toFixed(1)}"/>` +
  corners.map(([x, y]) => `<rect x="${at(x - 6 * unit)}" y="${at(y - 6 * unit)}" width="${(12 * unit).toFixed(1)}" height="${(12 * unit).toFixed(1)}" fill="none" stroke="${FRAME}" stroke-width="${unit.toFixed(2)}"/>`).join('')

/** A target that was used: a cross on its middle. Left aside: a broken ring round it. */
const targetShape = ({ px: [x, y], used }: NonNullable<Detection['targets']>[number], unit: number): string => {
  const r = 5 * unit
  if (!used) return `<circle cx="${at(x)}" cy="${at(y)}" r="${r.toFixed(1)}" fill="none" stroke="${DOUBT}" stroke-width="${unit.toFixed(2)}" stroke-dasharray="${(2 * unit).toFixed(1)} ${(2 * unit).toFixed(1)}"/>`
  const style = `stroke="${FRAME}" stroke-width="${unit.toFixed(2)}"`
  return line([x - r, y], [x + r, y], style) + line([x, y - r], [x, y + r], style)
}

const WAYS: Readonly<Record<Detection['rectifiedBy'], string>> = {
  sheet: 'perspective removed by the printed sheet',
  paper: 'perspective removed by the paper’s corners',
  corners: 'perspective removed by the corners given',
  ruler: 'perspective removed by the ruler beside the marks',
  edges: 'perspective removed by the strip’s two long edges',
  squares: 'perspective removed by the squares on the paper',
  rules: 'perspective removed by the rules on the paper',
  circle: 'perspective removed by a drawn circle',
  turn: 'perspective removed by the full turn of marks',
  none: 'perspective not removed',
}

/** The corner of the picture (bottom left first) where a box of this size lies over the fewest marks; px of its upper left. */
const emptiestCorner = ({ marks, widthPx, heightPx }: Detection, [width, height]: readonly [number, number], margin: number): Point => {
  const corners = [heightPx - height - margin, margin].flatMap((y) => [margin, widthPx - width - margin].map((x): Point => [x, y]))
  const covered = ([x, y]: Point): number => marks.filter(({ p0, p1 }) => [p0, p1].some((p) => p[0] > x - margin && p[0] < x + width + margin && p[1] > y - margin && p[1] < y + height + margin)).length
  return corners.reduce((best, corner) => (covered(corner) < covered(best) ? corner : best))
}

type Row = readonly [words: string, shape: ((x: number, y: number) => string) | null]

const targetRows = (targets: NonNullable<Detection['targets']>, unit: number): readonly Row[] => {
  const used = targets.filter((target) => target.used).length
  const row = (words: string, ofUsed: boolean): Row => [words, (x, y) => targetShape({ px: [x + 15 * unit, y], used: ofUsed }, unit)]
  return [row(`${used} targets of the sheet`, true), ...(used < targets.length ? [row(`${targets.length - used} targets left aside: they do not agree`, false)] : [])]
}

/** Key to the shapes, in the corner with the fewest marks. */
const legend = (detection: Detection, unit: number): string => {
  const { marks, refused, rectifiedBy, targets } = detection
  const size = 13 * unit
  const doubtful = marks.filter((m) => m.confidence < DOUBTFUL).length
  const rows: readonly Row[] = [
    [`${marks.length - doubtful} marks taken`, (x, y) => markShape({ ...SAMPLE, p0: [x, y], p1: [x + 30 * unit, y], confidence: 1 }, unit)],
    [`${doubtful} doubtful, counted`, (x, y) => markShape({ ...SAMPLE, p0: [x + 5 * unit, y], p1: [x + 25 * unit, y], confidence: 0 }, unit)],
    [`${refused.length} looked at and left out`, (x, y) => refusedShape({ p0: [x, y], p1: [x + 30 * unit, y], why: '' }, unit)],
    ...(targets === undefined ? [] : targetRows(targets, unit)),
    [WAYS[rectifiedBy], null],
  ]
  const [width, height] = [27 * size, (rows.length + 0.6) * 1.5 * size]
  const [left, top] = emptiestCorner(detection, [width, height], 8 * unit)
  const box = `<rect x="${left}" y="${top}" width="${width}" height="${height}" fill="#ffffff" fill-opacity="0.88" stroke="${FRAME}" stroke-width="${(0.7 * unit).toFixed(2)}"/>`
  return box + rows.map(([words, shape], i) => {
    const y = top + (i + 0.9) * 1.5 * size
    return (shape?.(left + 10 * unit, y - size * 0.35) ?? '') + text([left + (shape === null ? 10 : 50) * unit, y], words, { size, colour: '#0f172a', anchor: 'start' })
  }).join('')
}

const SAMPLE: DetectedMark = { angleDeg: 0, uDeg: 0, uOwnDeg: 0, positionPx: null, positionMm: null, uPosition: null, uOwnPosition: null, p0: [0, 0], p1: [0, 0], widthPx: 2, confidence: 1, multiplicity: 1 }

/** What was found, as an SVG of the photo's own size to lay over it; text in DejaVu Sans. Shapes differ as well as colours. */
export const overlaySvg = (detection: Detection): string => {
  const unit = unitOf(detection)
  const { widthPx, heightPx, marks, refused, centrePx, cornersPx, targets = [] } = detection
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx}" height="${heightPx}" viewBox="0 0 ${widthPx} ${heightPx}">`,
    ...refused.map((r) => refusedShape(r, unit)),
    cornersPx === null ? '' : cornersShape(cornersPx, unit),
    ...targets.map((target) => targetShape(target, unit)),
    centrePx === null ? '' : centreShape(centrePx, unit),
    ...marks.map((m) => markShape(m, unit)),
    numbers(detection, unit),
    legend(detection, unit),
    '</svg>',
  ].join('')
}
