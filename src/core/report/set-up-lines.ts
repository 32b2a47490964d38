import type { SetUp } from '#core/ingest/set-up'
import type { Stated, Trace } from '#core/ingest/trace'

type Line = readonly [key: string, value: string]

const length = ({ value, u }: Stated): string => (u > 0 ? `${value} ± ${u} mm` : `${value} mm`)

/** What a set-up says, as head lines of a trace file, in the order of the format; only what it says. */
export const setUpLines = (setUp: SetUp): readonly Line[] => {
  const { motor, stepsPerRev, microsteps, rig, unit, radiusMm, distanceMm, footMm, ratio, gears = [], markUncertainty, lineWidth, parallax, hand, commands, fullStepCommand, order, shared = [] } = setUp
  const lines: readonly (readonly [string, string | undefined])[] = [
    ['motor', motor],
    ['steps-per-rev', stepsPerRev?.toString()],
    ['microsteps', microsteps?.toString()],
    ['rig', rig],
    ['position-unit', unit],
    ['radius', radiusMm && length(radiusMm)],
    ['distance', distanceMm && length(distanceMm)],
    ['foot', footMm && length(footMm)],
    ['ratio', ratio?.toString()],
    ['gears', gears.length > 0 ? gears.map(({ drivenTeeth, drivingTeeth }) => `${drivenTeeth}:${drivingTeeth}`).join(', ') : undefined],
    ['mark-uncertainty', markUncertainty && `${markUncertainty.value} ${markUncertainty.unit}`],
    ['line-width', lineWidth && `${lineWidth.value} ${lineWidth.unit}`],
    ['parallax', parallax && `${parallax.value} ${parallax.unit}`],
    ['hand', hand && `${hand.value} ${hand.unit}`],
    ['commands', commands?.toString()],
    ['full-step-command', fullStepCommand?.toString()],
    ['order', order],
    ...shared.map(({ source, uDeg }) => ['shared-uncertainty', `${source} ${uDeg} deg`] as const),
  ]
  return lines.flatMap(([key, value]) => (value === undefined || value === '' ? [] : [[key, value] as const]))
}

const partKeys = { 'line width': 'lineWidth', parallax: 'parallax', hand: 'hand' } as const

/** The set-up a trace was read under. */
export const setUpOfTrace = ({ motor, rig, unit, gears, markUncertainty, markParts = [], commands, fullStepCommand, ordered, common }: Trace): SetUp => ({
  motor: motor.name,
  stepsPerRev: motor.stepsPerRev,
  microsteps: motor.microsteps,
  rig: rig.kind,
  unit,
  ...('radiusMm' in rig && rig.radiusMm ? { radiusMm: rig.radiusMm } : {}),
  ...(rig.kind === 'mirror' ? { distanceMm: rig.distanceMm, ratio: rig.ratio, ...(rig.footMm ? { footMm: rig.footMm } : {}) } : {}),
  gears,
  ...(markUncertainty ? { markUncertainty } : {}),
  ...Object.fromEntries(markParts.map((part) => [partKeys[part.source], part])),
  ...(commands === null ? {} : { commands }),
  ...(fullStepCommand === null ? {} : { fullStepCommand }),
  ...(ordered ? {} : { order: 'none' as const }),
  ...(common.length > 0 ? { shared: common } : {}),
})
