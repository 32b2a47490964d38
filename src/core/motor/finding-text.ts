import type { Interval } from '#core/figures/effective-interval'
import type { FullModel } from './choose-blocks.ts'
import type { Cause } from './motor-fit.ts'
import type { Verdict } from './name-cause.ts'
import type { Block } from './rest-parameters.ts'

/** What each cause is, what to try, and how a second test shows that it helped. */
const ABOUT: Record<Cause, { readonly what: string; readonly attempt: string; readonly proof: string }> = {
  even: {
    what: 'no cause is named: within what the marks can show, this motor is as even as an ideal one',
    attempt: 'nothing needs mending; a longer pointer, more passes or a second direction would bring smaller faults to light',
    proof: 'the upper limits given for each parameter fall as the marks get better',
  },
  'detent torque': {
    what: 'detent torque draws the shaft towards the same place in every full step (a current profile that is not a sine looks the same)',
    attempt: 'try more current within the rating; if that does not help, another driver or a correction table',
    proof: 'repeat the test at the new current: true detent falls in inverse proportion to the current, a fault of the current profile does not',
  },
  'unequal phases': {
    what: 'one phase pulls harder than the other, or the phases do not stand at 90°',
    attempt: 'swap the two phases at the driver, then try another driver',
    proof: 'repeat the test after the swap: a fault of the driver moves by one full step, a fault of the motor stays; with a better driver the imbalance falls towards zero',
  },
  'unequal phases or stacks': {
    what: 'alternate full steps differ: one phase pulls harder than the other, or the two halves of the motor have unequal detent; these marks cannot tell the two apart',
    attempt: 'swap the two phases at the driver and repeat; try more current',
    proof: 'a fault of the driver moves by one full step with the swap; unequal detent stays, and falls in inverse proportion to the current',
  },
  'current offset': {
    what: 'one phase carries a current that is there even at its zero crossing',
    attempt: 'try another driver, or let its zero be set again; swap the two phases at the driver to see whose fault it is',
    proof: 'repeat the test after the swap: an offset of the driver moves with the phase; once cured, the offset falls towards zero',
  },
  friction: {
    what: 'dry friction holds the shaft before it has arrived, so forward and backward rests stand apart',
    attempt: 'free the bearing, the pointer or the load, or use more current; otherwise always approach from the same side',
    proof: 'repeat the test in both directions: the reversal must shrink, in inverse proportion to the current if that was changed',
  },
  'unequal stacks': {
    what: 'the detent of the two halves of the motor is unequal, so the shaft favours every other full step (usual in can-stack motors)',
    attempt: 'try more current; otherwise trust the full steps, or use a correction table where no leap stands in the way',
    proof: 'repeat the test at the new current: both detent figures fall in inverse proportion to it',
  },
  unexplained: {
    what: 'the pattern repeats from cycle to cycle, but neither detent, phases, offset nor friction describes it',
    attempt: 'check that the pointer is tight, the paper did not slip and no mark was overlooked, wait longer after every command, and run a second pass',
    proof: 'a fault of the set-up will not come back at the same commands in the second pass',
  },
}

const BLOCK_NAMES: Record<Block, string> = {
  offset: 'current offset',
  imbalance: 'imbalance of the phases',
  detent2: 'second-order detent',
  detent4: 'fourth-order detent',
  friction: 'friction',
}

const upper = (clause: string): string => `${clause.charAt(0).toUpperCase()}${clause.slice(1)}.`

const sureness = (confidence: number): string =>
  confidence > 0.99 ? 'beyond reasonable doubt' : confidence > 0.9 ? 'likely' : confidence > 0.6 ? 'more likely than not' : 'in doubt'

/** What else a block of the second order may be where both readings fit alike. */
const orElse = (block: Block, { otherReading }: FullModel): string => {
  if (otherReading === null || (block !== 'imbalance' && block !== 'detent2')) return ''
  return `, or ${block === 'imbalance' ? 'a second-order detent of about half that' : 'an imbalance of the phases of about twice that'} in its place`
}

const sizeClause = (block: Block, interval: Interval | null): string => {
  if (interval === null) return `${BLOCK_NAMES[block]} is present`
  const of = block === 'offset' ? 'phase current' : 'holding torque'
  return `${BLOCK_NAMES[block]} is ${interval.value.toFixed(3)} of ${of} (95 % interval ${interval.low.toFixed(3)} to ${interval.high.toFixed(3)})`
}

/** What to try and how to see that it helped; rests that scatter beyond their marks come first, and alone where nothing else was found. */
const advice = ({ cause }: Verdict, { noise }: FullModel): readonly string[] => {
  const { attempt, proof } = ABOUT[cause]
  const settle = 'the rests scatter more than their marks account for: wait longer after every command, and see whether a second pass repeats the pattern'
  if (!noise.scatters) return [attempt, proof]
  return cause === 'even' ? [settle] : [settle, attempt, proof]
}

/** Puts a verdict into plain sentences: what it is and how large, how sure, what else, what to try, how to see that it helped. */
export const findingText = (verdict: Verdict, full: FullModel, sizes: ReadonlyMap<Block, Interval | null>): string => {
  const clauses = [
    ABOUT[verdict.cause].what,
    ...verdict.named.map(({ block }) => `${sizeClause(block, sizes.get(block) ?? null)}${orElse(block, full)}`),
    `how sure: ${sureness(verdict.confidence)} (confidence ${verdict.confidence > 0.99 ? 'above 0.99' : verdict.confidence.toFixed(2)})`,
    ...(verdict.misfit && verdict.cause !== 'unexplained' ? ['part of the repeating pattern is not explained by it'] : []),
    ...advice(verdict, full),
  ]
  return clauses.map(upper).join(' ')
}
