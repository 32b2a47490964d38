import type { FullModel } from './choose-blocks.ts'
import { type BlockFit, fitBlocks } from './fit-blocks.ts'
import type { FoldedPattern } from './folded-pattern.ts'
import { chanceOfRatio, devianceOf } from './noise-of.ts'
import { type Block, sizeOf } from './rest-parameters.ts'
import { widenSearch } from './widen-search.ts'

/** What the data say for one block of the full model: the model refitted without it. */
export interface BlockEvidence {
  readonly block: Block
  readonly size: number
  readonly without: BlockFit
  /** Rise of the deviance (−2 log likelihood) without the block, and of the Bayesian information criterion. */
  readonly devianceGain: number
  readonly bicGain: number
  /** Probability of such a gain if the block were nothing. */
  readonly chance: number
  /** The data carry a cause: named at `NAMED_AT` over all causes together and by the criterion. */
  readonly named: boolean
}

/** Probability, over all causes together, of naming any on an even motor. */
const NAMED_AT = 0.03

const weighBlock = (pattern: FoldedPattern, full: FullModel, block: Block): BlockEvidence => {
  const { fit, noise } = full
  const rest = fit.blocks.filter((other) => other !== block)
  const without = widenSearch(pattern, fitBlocks(pattern, rest, [fit.parameters]))
  const freed = fit.places.length - without.places.length
  const devianceGain = devianceOf(pattern, noise, without.squares) - devianceOf(pattern, noise, fit.squares)
  const bicGain = devianceGain - freed * Math.log(pattern.rests)
  const ratio = (without.squares - fit.squares) / (freed * noise.variance * noise.inflation)
  const chance = freed > 0 ? chanceOfRatio(ratio, freed, noise.freedom) : 1
  const named = bicGain > 0 && chance < NAMED_AT / fit.blocks.length
  return { block, size: sizeOf(block, fit.parameters), without, devianceGain, bicGain, chance, named }
}

/** Refits the full model without each of its blocks in turn. */
export const weighBlocks = (pattern: FoldedPattern, full: FullModel): readonly BlockEvidence[] =>
  full.fit.blocks.map((block) => weighBlock(pattern, full, block))

/** Probability that the cells miss the full model by so much when only the scatter within cells is at work; 1 when there is none to compare with. */
export const chanceOfMisfit = (pattern: FoldedPattern, full: FullModel): number => {
  const cells = pattern.legs.reduce((sum, leg) => sum + leg.count.filter((n) => n > 0).length, 0)
  const above = cells - full.fit.places.length
  const known = pattern.scatterFreedom < 4
  const variance = known ? pattern.u ** 2 : pattern.scatterSquares / pattern.scatterFreedom
  if (!(variance > 0)) return full.fit.squares > 1e-12 && above > 0 ? 0 : 1
  return chanceOfRatio(full.fit.squares / above / (variance * full.noise.inflation), above, known ? 1e7 : pattern.scatterFreedom)
}
