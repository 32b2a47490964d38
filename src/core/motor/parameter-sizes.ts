import type { Interval } from '#core/figures/effective-interval'
import { quantileOfSorted } from '#core/numeric/moments'
import { ALIKE_BELOW, type FullModel } from './choose-blocks.ts'
import type { FoldedPattern } from './folded-pattern.ts'
import { BLOCKS, type Block, placesOf, sizeOf, unseenPlaces } from './rest-parameters.ts'
import { leaps } from './steady-cycle.ts'
import type { BlockEvidence } from './weigh-blocks.ts'

export interface ParameterSizes {
  readonly sizes: ReadonlyMap<Block, Interval | null>
  readonly notTold: readonly { readonly parameter: Block; readonly why: string }[]
}

/** Half width of a 95 % interval beyond which a parameter counts as not told. */
const TOO_WIDE: Record<Block, number> = { offset: 0.15, imbalance: 0.15, detent2: 0.15, detent4: 0.15, friction: 0.04 }

/** Chance of its gain below which the data miss a block that is left out. */
const SHOWN_BELOW = 0.05

const isSecond = (block: Block): boolean => block === 'imbalance' || block === 'detent2'

const whyFixed = (block: Block, full: FullModel, { most, shown }: { readonly most: number; readonly shown: boolean }): string => {
  if (block === 'friction')
    return 'One direction cannot show friction: it moves every rest of a smooth pattern by the same angle, as another zero of the paper would. Mark a return pass.'
  if (!shown) return 'The marks show no second order beyond chance; how a small one is parted between unequal phases and a second-order detent cannot be told.'
  const [given, left] = block === 'detent2' ? ['unequal phases', 'second-order detent'] : ['second-order detent', 'imbalance']
  return full.readingWeight < ALIKE_BELOW
    ? `To these marks unequal phases and a second-order detent look alike (an imbalance like a detent of half its size). The second order is read as ${given}, whose interval begins at nothing because all of it may be ${left}, up to ${most.toFixed(3)} of holding torque. Swap the phases and repeat: a fault of the driver moves by one full step.`
    : `The second order is ${given}, clearly the better reading; what ${left} is left beside it cannot be told.`
}

const whyUnseen = (block: Block, microsteps: number): string =>
  `At ${microsteps === 1 ? 'full steps' : 'two commands per full step'} the marks show ${block === 'detent4' && microsteps === 1 ? 'nothing' : 'one component only'} of the ${block === 'detent4' ? 'fourth' : 'second'} order: its size cannot be told. Mark at 1/4 or finer.`

/** Of two blocks for the second order the data may do without one; the other's size is then that without it. */
const likeliest = (block: Block, full: FullModel, evidence: readonly BlockEvidence[]): number => {
  const rival = evidence.find((one) => full.secondOrder === 'both' && (block === 'imbalance' ? one.block === 'detent2' : block === 'detent2' && one.block === 'imbalance'))
  return sizeOf(block, rival && rival.chance >= SHOWN_BELOW ? rival.without.parameters : full.fit.parameters)
}

const sortedSizes = (block: Block, samples: readonly (readonly number[])[]): number[] => Array.from(Float64Array.from(samples, (sample) => sizeOf(block, sample)).sort())

const intervalOf = (block: Block, full: FullModel, samples: readonly (readonly number[])[], evidence: readonly BlockEvidence[]): Interval => {
  const best = likeliest(block, full, evidence)
  const shown = evidence.some((one) => one.block === block && one.chance < SHOWN_BELOW)
  const sorted = sortedSizes(block, samples)
  // The other reading of the second order, which leaves the block out, counts for the interval alone.
  const value = leaps(full.fit.parameters) ? quantileOfSorted(sorted.filter((size) => size > 0), 0.5) : best
  const low = shown ? quantileOfSorted(sorted, 0.025) : 0
  return { value, low: Math.min(low, value), high: Math.max(quantileOfSorted(sorted, 0.975), value) }
}

/**
 * Size of each cause with its 95 % interval from the likelihood samples. The value is the likeliest one in a smooth motor, whose
 * likelihood is nearly normal; in a leaping one, whose likelihood has edges at which the likeliest value may sit, it is the
 * median of the samples (posterior median, flat prior), so that it lies in the bulk of its interval. The interval starts at 0 where the data would do
 * without the block (5 %). Null, with the reason in a sentence, where the model had to leave it out, N does not show it, or the
 * interval is too wide to say anything.
 */
export const parameterSizes = (
  pattern: FoldedPattern,
  full: FullModel,
  evidence: readonly BlockEvidence[],
  samples: readonly (readonly number[])[],
): ParameterSizes => {
  const unseen = unseenPlaces(pattern.phases / 4)
  const told = BLOCKS.map((block): { block: Block; interval: Interval | null; why: string | null } => {
    if (placesOf(block).some((place) => unseen.includes(place))) return { block, interval: null, why: whyUnseen(block, pattern.phases / 4) }
    const weight = evidence.find((one) => one.block === block)
    if (weight === undefined) return { block, interval: null, why: whyFixed(block, full, { most: quantileOfSorted(sortedSizes(block, samples), 0.975), shown: evidence.some((one) => isSecond(one.block) && one.chance < SHOWN_BELOW) }) }
    const interval = intervalOf(block, full, samples, evidence)
    if (interval.high - interval.low <= 2 * TOO_WIDE[block]) return { block, interval, why: null }
    const why =
      block === 'friction' && pattern.legs.length === 1
        ? 'One direction hardly shows friction here; it may be anything between the limits tried. Mark a return pass.'
        : `The marks leave it anywhere from ${interval.low.toFixed(2)} to ${interval.high.toFixed(2)}; more passes or finer marks would narrow it.`
    return { block, interval: null, why }
  })
  return {
    sizes: new Map(told.map(({ block, interval }) => [block, interval])),
    notTold: told.flatMap(({ block, why }) => (why === null ? [] : [{ parameter: block, why }])),
  }
}
