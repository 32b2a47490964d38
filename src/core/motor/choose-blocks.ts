import { type BlockFit, fitBlocks } from './fit-blocks.ts'
import type { FoldedPattern } from './folded-pattern.ts'
import { devianceOf, type Noise, noiseOf } from './noise-of.ts'
import { inverseNormalAt } from './pattern-squares.ts'
import { type Block, freePlaces, placesOf, unseenPlaces } from './rest-parameters.ts'
import { leaps } from './steady-cycle.ts'
import { widenSearch } from './widen-search.ts'

/** The fullest model these data can carry. */
export interface FullModel {
  readonly fit: BlockFit
  readonly noise: Noise
  /** How the second order is read: the one block that stands for it, or both where the data tell them apart. */
  readonly secondOrder: 'imbalance' | 'detent2' | 'both'
  /** Weight (0.5 … 1) of that reading against the other; near 0.5 the two fit alike. */
  readonly readingWeight: number
  /** The other reading, where it fits alike. */
  readonly otherReading: BlockFit | null
}

/** Weight below which the readings of the second order count as alike. */
export const ALIKE_BELOW = 0.99
/** Standard error to which both blocks of the second order must be known to be fitted side by side; less will do where one reading alone is clearly the better. */
const TOLD_APART = 0.02
const TOLD_BESIDE = 0.075

/** Whether imbalance and second-order detent are known so well with both free, judged at one reading's fit. */
const toldApart = (pattern: FoldedPattern, fit: BlockFit, { noise, standardError }: { readonly noise: Noise; readonly standardError: number }): boolean => {
  const places = freePlaces([...new Set<Block>([...fit.blocks, 'imbalance', 'detent2'])], pattern.phases / 4)
  const inverse = inverseNormalAt(pattern, fit.parameters, places)
  const limit = standardError ** 2 / (noise.variance * noise.inflation)
  const judged = [...placesOf('imbalance'), ...placesOf('detent2')].map((place) => places.indexOf(place))
  return inverse !== null && judged.every((i) => i >= 0 && (inverse[i]?.[i] as number) < limit)
}

/** Both readings of the second order with everything else; friction where two directions, or a leaping shaft, can show it. */
const readings = (pattern: FoldedPattern): readonly [BlockFit, BlockFit] => {
  const fitWide = (blocks: readonly Block[]): BlockFit => widenSearch(pattern, fitBlocks(pattern, blocks))
  const fitBoth = (friction: readonly Block[]): [BlockFit, BlockFit] => [
    fitWide(['offset', 'imbalance', 'detent4', ...friction]),
    fitWide(['offset', 'detent2', 'detent4', ...friction]),
  ]
  if (pattern.legs.length > 1) return fitBoth(['friction'])
  const still = fitBoth([])
  const better = still[0].squares <= still[1].squares ? still[0] : still[1]
  return leaps(better.parameters) ? fitBoth(['friction']) : still
}

/**
 * Chooses the fullest model. To first order unequal phases and a second-order detent bend the rests alike; both are fitted side
 * by side only where the data part them. Otherwise the clearly better one stands for the second order, and where they fit
 * alike it is read as unequal phases, or as detent in a motor whose fourth-order detent makes it leap (in a motor of that kind
 * the stacks are the likelier cause: common practice, no source).
 */
export const chooseBlocks = (pattern: FoldedPattern): FullModel => {
  const [unequal, stacks] = readings(pattern)
  const better = unequal.squares <= stacks.squares ? unequal : stacks
  const noise = noiseOf(pattern, better.squares, better.places.length)
  const lead = devianceOf(pattern, noise, stacks.squares) - devianceOf(pattern, noise, unequal.squares)
  // At 1/2 and full steps part of the orders is not seen at all, and what is seen can be bent to either reading.
  const weight = unseenPlaces(pattern.phases / 4).length > 0 ? 0.5 : 1 / (1 + Math.exp(-lead / 2))
  const alike = weight < ALIKE_BELOW && 1 - weight < ALIKE_BELOW
  if (toldApart(pattern, better, { noise, standardError: alike ? TOLD_APART : TOLD_BESIDE })) {
    const blocks = [...new Set<Block>([...better.blocks, 'imbalance', 'detent2'])]
    const both = fitBlocks(pattern, blocks, [unequal.parameters, stacks.parameters])
    return { fit: both, noise: noiseOf(pattern, both.squares, both.places.length), secondOrder: 'both', readingWeight: 1, otherReading: null }
  }
  const readUnequal = alike ? !leaps(better.parameters) : lead > 0
  return readUnequal
    ? { fit: unequal, noise, secondOrder: 'imbalance', readingWeight: weight, otherReading: alike ? stacks : null }
    : { fit: stacks, noise, secondOrder: 'detent2', readingWeight: 1 - weight, otherReading: alike ? unequal : null }
}
