import type { Command } from 'commander'
import type { PlannedRig, PlanSetup } from '#core/prepare/plan/plan-setup'
import { planTest } from '#core/prepare/plan/plan-test'
import { usualDwellS } from '#core/prepare/usual-pace'
import { readLoneNumber } from '#core/quantity/read-number'
import { readStated } from '#core/quantity/read-quantity'
import { isUnmeasurable, sentenceOf, type Unmeasurable } from '#core/quantity/unmeasurable'
import { gearRatio } from '#adapters/terminal/gears-option'
import { wholeOption, wrongUsage } from '#adapters/terminal/motor-options'
import type { Shown } from '#adapters/terminal/outcome'
import type { PlanOptions } from '#adapters/terminal/plan-command'
import { quantityOption } from '#adapters/terminal/quantity-option'
import { planText } from './plan-text.ts'

const above = (command: Command, name: string, value: number | null): number =>
  value !== null && value > 0 ? value : wrongUsage(command, `${name} must be above zero`)

const pointerRig = (options: PlanOptions, command: Command): PlannedRig => ({
  kind: 'pointer',
  lengthMm: above(command, '--length', quantityOption(command, ['--length', options.length ?? '80mm'], 'length')),
  pivotUMm: quantityOption(command, ['--pivot', options.pivot ?? '0.5mm'], 'length') ?? 0,
})

const mirrorRig = (options: PlanOptions, command: Command): PlannedRig => {
  const distance = readStated(options.distance ?? '1500 ± 3 mm', 'length', '--distance')
  if (isUnmeasurable(distance)) return wrongUsage(command, sentenceOf(distance))
  if (options.ratio !== '1' && options.ratio !== '2')
    return wrongUsage(command, `--ratio must be 2 or 1, not "${options.ratio}"`)
  return {
    kind: 'mirror',
    distanceMm: above(command, '--distance', distance.value),
    distanceUMm: distance.u || distance.value * 0.002,
    footUMm: quantityOption(command, ['--foot', options.foot ?? '10mm'], 'length') ?? 0,
    spotMm: quantityOption(command, ['--spot', options.spot ?? '3mm'], 'length') ?? 0,
    ratio: options.ratio === '1' ? 1 : 2,
  }
}

const fullStepsOf = (options: PlanOptions, command: Command, wholeTurn: number): number => {
  if (options.turns !== undefined && options.fullSteps !== undefined)
    return wrongUsage(command, 'give --turns or --full-steps, not both')
  if (options.turns !== undefined) return Math.round(wholeOption(command, ['--turns', options.turns]) * wholeTurn)
  return wholeOption(command, ['--full-steps', options.fullSteps], options.rig === 'mirror' ? 8 : Math.round(wholeTurn))
}

const setupOf = (options: PlanOptions, command: Command): PlanSetup => {
  if (options.rig !== 'pointer' && options.rig !== 'mirror')
    return wrongUsage(command, `--rig must be pointer or mirror, not "${options.rig}"`)
  const stepsPerRev = wholeOption(command, ['--steps-per-rev', options.stepsPerRev])
  const ratio = gearRatio(command, options.gears)
  const [share, half] = [
    (readLoneNumber(options.expectError) ?? Number.NaN) / 100,
    options.halfWidth === undefined ? null : (readLoneNumber(options.halfWidth) ?? Number.NaN),
  ]
  if (!(share >= 0)) wrongUsage(command, '--expect-error must be a percentage of zero or more')
  return {
    stepsPerRev,
    microsteps: wholeOption(command, ['--microsteps', options.microsteps]),
    rig: options.rig === 'pointer' ? pointerRig(options, command) : mirrorRig(options, command),
    gearRatio: ratio,
    markUMm: above(
      command,
      '--mark-uncertainty',
      quantityOption(command, ['--mark-uncertainty', options.markUncertainty ?? '0.2mm'], 'length'),
    ),
    lineMm: above(command, '--pen', quantityOption(command, ['--pen', options.pen ?? '0.5mm'], 'length')),
    fullSteps: fullStepsOf(options, command, stepsPerRev * ratio),
    passes: wholeOption(command, ['--passes', options.passes]),
    bothWays: options.bothWays ?? false,
    dwellS: above(command, '--dwell', quantityOption(command, ['--dwell', options.dwell ?? `${usualDwellS}s`], 'time')),
    expectedErrorShare: share,
    wantedHalfWidth: half === null ? null : above(command, '--half-width', half),
  }
}

/** Runs `plan`. */
export const runPlan = (options: PlanOptions, command: Command): Shown | Unmeasurable => {
  const setup = setupOf(options, command)
  const plan = planTest(setup)
  return isUnmeasurable(plan)
    ? plan
    : { json: { schema: 'stepwitness/plan@1', setup, ...plan }, text: planText(setup, plan) }
}
