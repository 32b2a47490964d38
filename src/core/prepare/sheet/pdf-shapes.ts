import {
  appendBezierCurve,
  fill,
  lineTo,
  moveTo,
  type PDFOperator,
  popGraphicsState,
  pushGraphicsState,
  rectangle,
  setFillingGrayscaleColor,
  setLineWidth,
  setStrokingGrayscaleColor,
  stroke,
} from 'pdf-lib'
import type { Shape } from './shape.ts'
import type { Place } from '#core/detect/sheet/page-size'
import type { Box } from '#core/detect/sheet/zone'

/** Printer's points per millimetre. */
export const pointsPerMm = 72 / 25.4

type Drawn = Exclude<Shape, { readonly kind: 'text' }>

/** Sheet mm → points of the page, y up. */
export const onPage =
  ({ left, bottom }: Box) =>
  ([x, y]: Place): Place => [(x - left) * pointsPerMm, (bottom - y) * pointsPerMm]

/** A circle's piece as cubic curves of at most 30°, which miss the circle by less than 1e-6 of its radius. */
const arcPath = ([x, y]: Place, radius: number, fromDeg: number, toDeg: number): readonly PDFOperator[] => {
  const pieces = Math.ceil((toDeg - fromDeg) / 30)
  const step = ((toDeg - fromDeg) / pieces) * (Math.PI / 180)
  const handle = (4 / 3) * Math.tan(step / 4) * radius
  const at = (n: number) => {
    const angle = (fromDeg * Math.PI) / 180 + n * step
    return { px: x + radius * Math.cos(angle), py: y + radius * Math.sin(angle), tx: -Math.sin(angle) * handle, ty: Math.cos(angle) * handle }
  }
  const first = at(0)
  return [
    moveTo(first.px, first.py),
    ...Array.from({ length: pieces }, (_, n) => {
      const [a, b] = [at(n), at(n + 1)]
      return appendBezierCurve(a.px + a.tx, a.py + a.ty, b.px - b.tx, b.py - b.ty, b.px, b.py)
    }),
  ]
}

const stroked = (width: number, tone: number, path: readonly PDFOperator[]): readonly PDFOperator[] => [
  setStrokingGrayscaleColor(tone),
  setLineWidth(width * pointsPerMm),
  ...path,
  stroke(),
]

const filled = (tone: number, path: readonly PDFOperator[]): readonly PDFOperator[] => [
  setFillingGrayscaleColor(tone),
  ...path,
  fill(),
]

const operatorsOf = (shape: Drawn, place: (point: Place) => Place): readonly PDFOperator[] => {
  switch (shape.kind) {
    case 'disc':
      return filled(shape.tone, arcPath(place(shape.centre), shape.radius * pointsPerMm, 0, 360))
    case 'ring': {
      const path = arcPath(place(shape.centre), ((shape.inner + shape.outer) / 2) * pointsPerMm, 0, 360)
      return stroked(shape.outer - shape.inner, shape.tone, path)
    }
    case 'arc': {
      const path = arcPath(place(shape.centre), shape.radius * pointsPerMm, shape.fromDeg, shape.toDeg)
      return stroked(shape.width, shape.tone, path)
    }
    case 'line':
      return stroked(shape.width, shape.tone, [moveTo(...place(shape.from)), lineTo(...place(shape.to))])
    case 'rect': {
      const [x, y] = place([shape.x, shape.y + shape.height])
      return filled(shape.tone, [rectangle(x, y, shape.width * pointsPerMm, shape.height * pointsPerMm)])
    }
  }
}

/** Vector operators for everything but words, true to size. */
export const shapeOperators = (shapes: readonly Shape[], sheet: Box): readonly PDFOperator[] => {
  const place = onPage(sheet)
  return [
    pushGraphicsState(),
    ...shapes.flatMap((shape) => (shape.kind === 'text' ? [] : operatorsOf(shape, place))),
    popGraphicsState(),
  ]
}
