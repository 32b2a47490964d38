import type { SheetSetup } from '#core/detect/detection'
import { toPhoto } from '#core/detect/plane-map'
import type { Raster } from '#core/detect/raster'
import { codeMm, codePlaces } from './blocks.ts'
import { pageOfNumber } from './page-number.ts'
import type { SheetPayload } from './payload.ts'
import { greyAt } from '#core/detect/grey-at'
import type { SheetFix } from './sheet-fix.ts'
import type { Place } from './page-size.ts'

/** Reads the one code in a small upright picture; null when there is none. Adapters bring one. */
export type CodeReader = (view: Raster) => Promise<string | null>

const viewPx = 240
const viewMm = codeMm + 5

/** Part of the paper about a place, rectified: viewPx square, its grey stretched by nothing. */
const viewAbout = (raster: Raster, fix: SheetFix, [x0, y0]: Place): Raster => {
  const grey = new Uint8Array(viewPx * viewPx)
  for (let row = 0; row < viewPx; row++) {
    for (let column = 0; column < viewPx; column++) {
      const place: Place = [x0 + ((column + 0.5) / viewPx - 0.5) * viewMm, y0 + ((row + 0.5) / viewPx - 0.5) * viewMm]
      grey[row * viewPx + column] = greyAt(raster, toPhoto(fix.map, place)) || 0
    }
  }
  return { width: viewPx, height: viewPx, grey }
}

/** Whether a view is neither bare paper nor wholly covered: a good part of it dark, a good part light. */
const busy = ({ grey }: Raster): boolean => {
  const sorted = Uint8Array.from(grey).sort()
  const [low, high] = [sorted[Math.floor(0.1 * sorted.length)] ?? 0, sorted[Math.floor(0.9 * sorted.length)] ?? 0]
  if (high - low < 25) return false
  const dark = sorted.findIndex((value) => value > (low + high) / 2) / sorted.length
  return dark > 0.2 && dark < 0.65
}

const agreesWith = (fix: SheetFix, payload: SheetPayload): boolean => payload.rig === fix.rig && payload.paper === fix.paper

/**
 * Reads the code printed on the pages in view, each place where one may be in turn, straight from the rectified paper.
 * The fix comes back with what the code said, or as it was when none could be read or it belongs to another sheet.
 */
export const readPayload = async (raster: Raster, fix: SheetFix, read: CodeReader): Promise<SheetFix> => {
  for (const { page } of fix.pages) {
    for (const place of codePlaces(pageOfNumber(page))) {
      const view = viewAbout(raster, fix, place)
      const text = busy(view) ? await read(view) : null
      const payload = text === null ? null : (await import('./payload.ts')).decodePayload(text)
      if (payload && !('kind' in payload) && agreesWith(fix, payload)) return { ...fix, payload }
    }
  }
  return fix
}

/** The set-up in the words of a detection. A length is the printed one; a mismeasured bar scales no wall distance. */
export const setupOf = ({ version, rig, lengthMm, stepsPerRev, microsteps, motor }: SheetPayload): SheetSetup => ({
  sheetVersion: version,
  motor: motor === '' ? null : motor,
  stepsPerRev,
  microsteps,
  rig,
  lengthMm,
})

/** True mm per printed mm: what a ruler said of the scale bar over what it should be; 1 when nobody measured. */
export const trueScale = ({ payload }: Pick<SheetFix, 'payload'>): number => (payload?.barMm ?? 100) / 100
