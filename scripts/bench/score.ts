import type { Detection } from '#core/detect/detection'
import { inkShown, type Matching, matchMarks } from './match.ts'
import { angleResiduals, lineResiduals, type Residuals } from './residual.ts'
import type { TruthFile } from './truth-file.ts'

/** Figures of one photo. */
export interface Score {
  readonly file: string
  readonly difficulty: string
  readonly kind: 'read' | 'refused'
  readonly why: string
  readonly wanted: number
  readonly found: number
  readonly taken: number
  readonly spurious: number
  /** deg; strip: mm. */
  readonly errors: readonly number[]
  readonly local: readonly number[]
  /** local, each mark counted by its u, / u of the mark itself. */
  readonly normalised: readonly number[]
  /** error / u with what centre and rectification add. */
  readonly normalisedWhole: readonly number[]
  /** local / Cramér–Rao bound of the mark. */
  readonly overBound: readonly number[]
  readonly countRight: boolean
  readonly doubtful: boolean
  readonly centreErrorMm: number | null
  readonly rectifiedBy: string
  readonly seconds: number
}

const nothing = { found: 0, taken: 0, spurious: 0, errors: [], local: [], normalised: [], normalisedWhole: [], overBound: [], countRight: false, centreErrorMm: null, rectifiedBy: '-' } as const

export const scoreRefused = (truth: TruthFile, why: string, seconds: number): Score => ({
  ...nothing,
  file: truth.photo.file,
  difficulty: truth.difficulty,
  kind: 'refused',
  why,
  doubtful: true,
  wanted: truth.marks.filter((m) => m.visible >= 0.8).length,
  seconds,
})

/** From the shaft to the middle of a mark, mm; 1 where there is no shaft. */
const radiusOf = ({ marks, centreMm }: TruthFile, mark: number): number => {
  const [[ax, ay], [bx, by]] = marks[mark]?.endsMm ?? [[1, 0], [1, 0]]
  return centreMm === null ? 1 : Math.hypot((ax + bx) / 2 - centreMm[0], (ay + by) / 2 - centreMm[1])
}

const compare = (detection: Detection, truth: TruthFile, { matches }: Matching): Residuals & { readonly u: readonly number[]; readonly whole: readonly number[] } => {
  const taken = detection.marks.filter((m) => m.confidence >= 0.5)
  const matched = new Set(matches.map((m) => m.truth))
  const ink = matches.map((m) => inkShown(m, truth, matched))
  const marks = matches.map((m) => taken[m.detected])
  if (truth.rig === 'pointer') {
    const radii = matches.map((m) => radiusOf(truth, m.truth))
    const u = marks.map((m) => m?.uOwnDeg ?? Number.NaN)
    return { ...angleResiduals({ values: marks.map((m) => m?.angleDeg ?? Number.NaN), u }, ink, radii, truth.motor.fullTurn), u, whole: marks.map((m) => m?.uDeg ?? Number.NaN) }
  }
  const inMm = marks.every((m) => m?.positionMm !== null && m !== undefined)
  const scale = inMm ? 1 : truth.pixelsPerMm
  const u = marks.map((m) => (m?.uOwnPosition ?? Number.NaN) / scale)
  const whole = marks.map((m) => (m?.uPosition ?? Number.NaN) / scale)
  return { ...lineResiduals({ values: marks.map((m) => m?.positionMm ?? m?.positionPx ?? Number.NaN), u }, ink, !inMm), u, whole }
}

/** Marks that the pointer covers in part: finding them is no mistake, nor is overlooking them. */
const halfHidden = ({ marks }: TruthFile): number => marks.filter((m) => m.visible > 0 && m.visible < 0.8).length

/** Measures a detection against the truth; marks below 0.5 confidence count as not taken. */
export const scoreDetection = (detection: Detection, truth: TruthFile, seconds: number): Score => {
  const taken = detection.marks.filter((m) => m.confidence >= 0.5)
  const matching = matchMarks(taken, truth)
  const { errors, local, localByU, u, whole } = compare(detection, truth, matching)
  const counts = [taken.length, taken.reduce((s, m) => s + m.multiplicity, 0)]
  const [x, y] = detection.centrePx ?? [Number.NaN, Number.NaN]
  return {
    file: truth.photo.file,
    difficulty: truth.difficulty,
    kind: 'read',
    why: detection.doubts.join(' '),
    wanted: matching.wanted,
    found: matching.wanted - matching.missed.length,
    taken: taken.length,
    spurious: matching.spurious.length,
    errors,
    local,
    normalised: localByU.map((e, i) => e / (u[i] ?? Number.NaN)),
    normalisedWhole: errors.map((e, i) => e / (whole[i] ?? Number.NaN)),
    overBound: matching.matches.map((m, i) => (local[i] ?? Number.NaN) / (truth.marks[m.truth]?.bound ?? Number.NaN)),
    countRight: counts.some((c) => c >= truth.distinct[0] && c <= truth.distinct[1] + halfHidden(truth)),
    doubtful: detection.doubts.length > 0 || detection.marks.length > taken.length,
    centreErrorMm: truth.centrePx === null || detection.centrePx === null ? null : Math.hypot(x - truth.centrePx[0], y - truth.centrePx[1]) / truth.pixelsPerMm,
    rectifiedBy: detection.rectifiedBy,
    seconds,
  }
}
