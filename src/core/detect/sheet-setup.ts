import type { SheetFix } from '#core/detect/sheet/sheet-fix'
import type { SheetSetup } from './detection.ts'

/** What the sheet's code said, in the detection's words; null when there is no sheet or its code was not read. */
export const setupOf = (fix: SheetFix | null): SheetSetup | null => {
  if (fix === null || fix.payload === null) return null
  const { version, motor, stepsPerRev, microsteps, rig, lengthMm } = fix.payload
  return { sheetVersion: version, motor: motor === '' ? null : motor, stepsPerRev, microsteps, rig, lengthMm }
}
