import { createHash } from 'node:crypto'
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Detection, DetectedMark } from '#core/detect/detection'
import type { Point } from '#core/detect/raster'
import { emptyWork, type Work } from '#core/review/work'

// Simulated: the marks are the drawn truth of a rendered photo, not a detection, so that these tests are about the page alone.
export const photoFile = 'samples/flap-1-plain.jpg'

interface Truth {
  readonly photo: { readonly width: number; readonly height: number }
  readonly centrePx: Point
  readonly paper: { readonly cornersPx: readonly Point[] }
  readonly marks: readonly { readonly drawnDeg: number; readonly endsPx: readonly [Point, Point]; readonly widthPx: number }[]
}

const truth = (): Truth => JSON.parse(readFileSync('samples/flap-1-plain.truth.json', 'utf8')) as Truth

const mark = (angleDeg: number, [p0, p1]: readonly [Point, Point], more: Partial<DetectedMark>): DetectedMark => ({
  angleDeg, uDeg: 0.06, uOwnDeg: 0.05, positionPx: null, positionMm: null, uPosition: null, uOwnPosition: null, p0, p1, widthPx: 4, confidence: 0.95, multiplicity: 1, ...more,
})

const detection = (marks: readonly DetectedMark[], more: Partial<Detection> = {}): Detection => {
  const { photo, centrePx } = truth()
  return {
    kind: 'detection', rig: 'pointer', widthPx: photo.width, heightPx: photo.height, centrePx, centreCovariancePx: [0.1, 0, 0.1], centreUDeg: 0.02,
    rectifiedBy: 'none', rectificationUDeg: 0.02, pixelsPerMm: null, cornersPx: null, marks: marks.toSorted((a, b) => (a.angleDeg ?? 0) - (b.angleDeg ?? 0)), refused: [], sheet: null, doubts: [], ...more,
  }
}

const workOf = (name: string, found: Detection, [steps, microsteps]: readonly [number, number]): Work => ({
  ...emptyWork(name),
  setUp: { motor: name, 'steps-per-rev': String(steps), microsteps: String(microsteps) },
  source: 'photo',
  photo: { name: 'flap-1-plain.jpg', sha256: createHash('sha256').update(readFileSync(photoFile)).digest('hex') },
  found,
})

/** A 48-step motor commanded in quarter steps that makes full steps only; one mark in 17 is doubtful. */
export const flapWork = (): Work => {
  const { marks, paper } = truth()
  const drawn = marks.map(({ drawnDeg, endsPx, widthPx }, i) => mark(drawnDeg, endsPx, { widthPx, confidence: i % 17 === 5 ? 0.3 : 0.95 }))
  return workOf('flap', detection(drawn, { rectifiedBy: 'paper', cornersPx: paper.cornersPx }), [48, 4])
}

/** Marks round the centre, `marks` of the `count` that make a whole turn. */
const around = ([marks, count]: readonly [number, number], wave: (k: number) => number, [inner, outer]: readonly [number, number]): readonly DetectedMark[] => {
  const [cx, cy] = truth().centrePx
  return Array.from({ length: marks }, (_, k) => {
    const deg = (k * 360) / count + wave(k)
    const at = (radius: number): Point => [cx + radius * Math.cos((deg * Math.PI) / 180), cy - radius * Math.sin((deg * Math.PI) / 180)]
    return mark((deg + 360) % 360, [at(inner), at(outer)], { uDeg: 360 / count / 40, uOwnDeg: 360 / count / 40, widthPx: 2 })
  })
}

/** Half a turn of even quarter steps of a 48-step motor but for one mark that is off by most of a microstep. */
export const oneWrongWork = (): Work => workOf('one wrong', detection(around([97, 192], (k) => (k === 40 ? 1.3 : 0), [430, 560])), [48, 4])

/** 3,200 marks: a turn of a 200-step motor in sixteenths. */
export const manyWork = (): Work => workOf('many', detection(around([3200, 3200], (k) => 0.02 * Math.sin((k * Math.PI) / 32), [420, 620])), [200, 16])

/** Puts a test into a project as if it had been saved. */
export const layDown = (project: string, id: string, work: Work): void => {
  const folder = join(project, 'tests', id)
  mkdirSync(folder, { recursive: true })
  if (work.photo) copyFileSync(photoFile, join(folder, 'photo.jpg'))
  writeFileSync(join(folder, 'work.json'), `${JSON.stringify(work)}\n`)
}

export const savedWork = (project: string, id: string): Work => JSON.parse(readFileSync(join(project, 'tests', id, 'work.json'), 'utf8')) as Work
