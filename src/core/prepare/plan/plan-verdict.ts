import { modeName } from '#core/decide/recommend'
import { writeNumber } from '#core/quantity/write-number'
import type { PlanSetup } from './plan-setup.ts'
import type { TestPlan } from './plan-test.ts'

const length = (mm: number): string => (mm >= 1000 ? `${writeNumber(mm / 1000, 3)} m` : `${writeNumber(mm, 3)} mm`)

/** Whether the rig will show what is asked of it, and what it would need where it does not. */
export const planVerdict = (setup: Pick<PlanSetup, 'microsteps' | 'rig'>, { finestMode, neededLengthMm, incrementUDeg, microstepDeg }: Pick<TestPlan, 'finestMode' | 'neededLengthMm' | 'incrementUDeg' | 'microstepDeg'>): { readonly enough: boolean; readonly headline: string; readonly need: string } => {
  const asked = modeName(setup.microsteps)
  if (incrementUDeg <= microstepDeg / 4) return { enough: true, headline: `This rig can judge ${asked}`, need: '' }
  const can = incrementUDeg > (microstepDeg * setup.microsteps) / 4 ? 'cannot judge even full steps' : finestMode === 1 ? 'can judge full steps only' : `can judge ${modeName(finestMode)} at best`
  return { enough: false, headline: `This rig ${can}`, need: `${asked} need a ${setup.rig.kind === 'pointer' ? 'pointer' : 'wall distance'} of ${length(neededLengthMm)} with marks this good` }
}
