import QRCode from 'qrcode'
import { codeMm } from '#core/detect/sheet/blocks'
import type { Shape } from './shape.ts'
import type { Place } from '#core/detect/sheet/page-size'

/**
 * The code as dark boxes, sheet mm, its side `codeMm` whatever its number of modules; neighbours in a row are one box.
 * Symbol: ISO/IEC 18004, error correction level M.
 */
export const codeShapes = (text: string, [x0, y0]: Place): readonly Shape[] => {
  const { modules } = QRCode.create(text, { errorCorrectionLevel: 'M' })
  const side = codeMm / modules.size
  const [left, top] = [x0 - codeMm / 2, y0 - codeMm / 2]
  return Array.from({ length: modules.size }, (_, row) => row).flatMap((row) =>
    runsOf((column) => modules.get(row, column) === 1, modules.size).map(
      ([from, to]): Shape => ({
        kind: 'rect',
        role: 'code',
        x: left + from * side,
        y: top + row * side,
        width: (to - from) * side,
        height: side,
        tone: 0,
      }),
    ),
  )
}

/** Half-open runs of indices below `length` that satisfy the predicate. */
const runsOf = (dark: (index: number) => boolean, length: number): readonly (readonly [from: number, to: number])[] => {
  const runs: [number, number][] = []
  for (let index = 0; index < length; index++) {
    if (!dark(index)) continue
    const last = runs.at(-1)
    if (last && last[1] === index) last[1] = index + 1
    else runs.push([index, index + 1])
  }
  return runs
}
