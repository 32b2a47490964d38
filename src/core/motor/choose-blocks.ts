import { type BlockFit, fitBlocks } from './fit-blocks.ts'
import type { FoldedPattern } from './folded-pattern.ts'
import { devianceOf, type Noise, noiseOf } from './noise-of.ts'
import { type Block, placesOf } from './rest-parameters.ts'
import { leaps } from './steady-cycle.ts'
import { widenSearch } from './widen-search.ts'

/** The fullest model these data can carry. */
export interface FullModel {
  readonly fit: BlockFit
  readonly noise: Noise
  /**
   * How the second order is read. `either`: unequal phases and a detent of second order fit alike and the model holds the
   * former; `both`: the data tell them apart and hold both.
   */
  readonly secondOrder: 'imbalance' | 'detent2' | 'either' | 'both'
}

/** Deviance by which one reading of the second order must beat the other, and the detail to which `both` must be told apart. */
const CLEARLY_BETTER = 10
const TOLD_APART = 0.02

const standardErrors = (fit: BlockFit, noise: Noise, blocks: readonly Block[]): readonly number[] =>
  blocks.flatMap(placesOf).map((place) => {
    const i = fit.places.indexOf(place)
    const variance = fit.inverseNormal?.[i]?.[i] ?? Number.POSITIVE_INFINITY
    return Math.sqrt(variance * noise.variance * noise.inflation)
  })

/** Both readings of the second order with everything else; friction where two directions, or a leaping shaft, can show it. */
const readings = (pattern: FoldedPattern, microsteps: number): readonly [BlockFit, BlockFit] => {
  const fitWide = (blocks: readonly Block[]): BlockFit => widenSearch(pattern, fitBlocks(pattern, blocks, microsteps), microsteps)
  const fitBoth = (friction: readonly Block[]): [BlockFit, BlockFit] => [
    fitWide(['offset', 'imbalance', 'detent4', ...friction]),
    fitWide(['offset', 'detent2', 'detent4', ...friction]),
  ]
  if (pattern.legs.length > 1) return fitBoth(['friction'])
  const still = fitBoth([])
  const better = still[0].squares <= still[1].squares ? still[0] : still[1]
  return leaps(better.parameters) ? fitBoth(['friction']) : still
}

/** Chooses the fullest model: one reading of the second order, or both where the data tell them apart. */
export const chooseBlocks = (pattern: FoldedPattern, microsteps: number): FullModel => {
  const [unequal, stacks] = readings(pattern, microsteps)
  const better = unequal.squares <= stacks.squares ? unequal : stacks
  const friction: readonly Block[] = better.blocks.includes('friction') ? ['friction'] : []
  const both = fitBlocks(pattern, ['offset', 'imbalance', 'detent2', 'detent4', ...friction], microsteps, [
    unequal.parameters,
    stacks.parameters,
  ])
  const noise = noiseOf(pattern, better.squares, better.places.length)
  const told = standardErrors(both, noise, ['imbalance', 'detent2']).every((error) => error < TOLD_APART)
  if (told) return { fit: both, noise: noiseOf(pattern, both.squares, both.places.length), secondOrder: 'both' }
  const lead = devianceOf(pattern, noise, stacks.squares) - devianceOf(pattern, noise, unequal.squares)
  if (Math.abs(lead) < CLEARLY_BETTER) return { fit: unequal, noise, secondOrder: 'either' }
  return lead > 0 ? { fit: unequal, noise, secondOrder: 'imbalance' } : { fit: stacks, noise, secondOrder: 'detent2' }
}
