import { ALIKE_BELOW, type FullModel } from './choose-blocks.ts'
import type { Cause } from './motor-fit.ts'
import type { BlockEvidence } from './weigh-blocks.ts'

/** What may be said, before it is put into words. */
export interface Verdict {
  readonly cause: Cause
  readonly confidence: number
  /** Blocks the data carry, the one that bends the pattern most first. */
  readonly named: readonly BlockEvidence[]
  /** The pattern repeats but the model does not describe all of it. */
  readonly misfit: boolean
}

/** Misses of the model that chance brings about less often than this count as a part left unexplained. */
const MISFIT_AT = 0.001
/** A second-order detent of at least this part of the fourth-order one is what unequal stacks make. */
const STACKS_SHARE = 0.25

/** How far a block moves the rests, electrical rad: amplitude of its own order, or the friction's lag. */
const bendOf = ({ block, size }: BlockEvidence): number =>
  block === 'imbalance' ? size / 2 : block === 'friction' ? Math.asin(Math.min(size, 1)) : size

/** Weight of the models with a gain in the criterion against those without. */
const weightOf = (bicGain: number): number => 1 / (1 + Math.exp(-bicGain / 2))

const causeOf = (first: BlockEvidence, named: readonly BlockEvidence[], full: FullModel): Cause => {
  const detent4 = named.find(({ block }) => block === 'detent4')
  const detent2 = named.find(({ block }) => block === 'detent2')
  switch (first.block) {
    case 'offset':
      return 'current offset'
    case 'imbalance':
      return full.readingWeight < ALIKE_BELOW ? 'unequal phases or stacks' : 'unequal phases'
    case 'detent2':
      return 'unequal stacks'
    case 'detent4':
      return detent2 && detent4 && detent2.size >= STACKS_SHARE * detent4.size ? 'unequal stacks' : 'detent torque'
    case 'friction':
      return 'friction'
  }
}

/** Names the block that bends the pattern most among those the data carry; an even motor or an unexplained pattern else. */
export const nameCause = (full: FullModel, evidence: readonly BlockEvidence[], chanceOfMisfit: number): Verdict => {
  const misfit = chanceOfMisfit < MISFIT_AT
  const named = evidence.filter((one) => one.named).sort((a, b) => bendOf(b) - bendOf(a))
  const [first] = named
  if (first === undefined) {
    const nearest = Math.max(...evidence.map(({ bicGain }) => bicGain))
    return misfit
      ? { cause: 'unexplained', confidence: 1 - chanceOfMisfit, named, misfit }
      : { cause: 'even', confidence: 1 - weightOf(nearest), named, misfit }
  }
  const cause = causeOf(first, named, full)
  const read = cause === 'unequal stacks' || cause === 'unequal phases' ? full.readingWeight : 1
  return { cause, confidence: weightOf(first.bicGain) * read * (misfit ? 0.5 : 1), named, misfit }
}
