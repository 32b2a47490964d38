import type { Dynamics } from './dynamics-of.ts'
import type { ModeTravel, Travel } from './travel-of.ts'

export type Answer = 'pass' | 'fail' | 'not proven'

/** One requirement against one mode on one train; margin > 1 means room to spare, null when it cannot be told. */
export interface Check {
  readonly requirement: 'resolution' | 'mode' | 'speed and force' | 'reversal'
  readonly answer: Answer
  readonly margin: number | null
  readonly why: string
}

/** Does the measured trace let this step mode stand? Not proven when it was not measured. */
export const modeCheck = ({ verdict, microsteps }: ModeTravel): Check => ({
  requirement: 'mode',
  margin: null,
  answer: verdict === 'holds' ? 'pass' : verdict === 'fails' ? 'fail' : 'not proven',
  why: verdict === null ? 'no measured trace covers this mode' : `1/${microsteps} ${verdict} on the measured trace`,
})

/**
 * Fine enough? Fails when even a perfect microstep is coarser; passes only on a measured figure (largest increment, else the
 * effective count's lower end); a nominal figure alone proves nothing.
 */
export const resolutionCheck = (mode: ModeTravel, wanted: number): Check => {
  const proven = mode.guaranteed ?? mode.effective?.high ?? null
  const margin = wanted / (proven ?? mode.nominal)
  if (wanted < mode.nominal * (1 - 1e-9))
    return { requirement: 'resolution', answer: 'fail', margin, why: 'coarser even when every microstep is perfect' }
  if (proven === null)
    return { requirement: 'resolution', answer: 'not proven', margin, why: 'fine enough on paper, nothing measured' }
  return proven <= wanted * (1 + 1e-9)
    ? { requirement: 'resolution', answer: 'pass', margin, why: 'the largest measured increment is fine enough' }
    : { requirement: 'resolution', answer: 'fail', margin, why: 'the largest measured increment is coarser' }
}

/** Enough torque at the wanted speed and acceleration? Under half as much again (a margin of 1.5, common practice) is not proven. */
export const forceCheck = ({ torqueMargin, torques }: Dynamics): Check => {
  const needed = torques[0]?.acceleratingNm ?? 0
  if (needed <= 0) return { requirement: 'speed and force', answer: 'pass', margin: null, why: 'no load was stated' }
  if (torqueMargin === null)
    return {
      requirement: 'speed and force',
      answer: 'not proven',
      margin: null,
      why: 'no pull-out torque is known at this rate',
    }
  if (torqueMargin < 1)
    return {
      requirement: 'speed and force',
      answer: 'fail',
      margin: torqueMargin,
      why: 'the motor has less torque than the load asks',
    }
  return torqueMargin < 1.5
    ? {
        requirement: 'speed and force',
        answer: 'not proven',
        margin: torqueMargin,
        why: 'less than half as much again as the load asks',
      }
    : { requirement: 'speed and force', answer: 'pass', margin: torqueMargin, why: 'torque to spare' }
}

/** Does what is lost on reversing fit? Not proven unless the motor was measured both ways. */
export const reversalCheck = ({ reversal }: Travel, measured: boolean, wanted: number): Check => {
  const margin = reversal.total > 0 ? wanted / reversal.total : null
  if (reversal.total > wanted)
    return { requirement: 'reversal', answer: 'fail', margin, why: 'backlash and motor reversal are larger' }
  return measured
    ? { requirement: 'reversal', answer: 'pass', margin, why: 'stated backlash and measured reversal fit' }
    : { requirement: 'reversal', answer: 'not proven', margin, why: 'the motor was not measured in both directions' }
}
