/**
 * The rest model as the fit sees it, in the trace's own frame (φ = 90°·k/N for command k, whatever the currents were at
 * command 0, so every order keeps two components and no start phase is left to find). Order of a parameter vector:
 *
 * - `zero` rad: where the marks' angle scale begins
 * - `offsetA`, `offsetB`: T gains −offsetA·sin x + offsetB·cos x
 * - `unequalSin`, `unequalCos`: T gains ½·unequalSin·sin(x + φ) + ½·unequalCos·cos(x + φ): the ellipse that unequal phases
 *   and phases not at 90° make of the current circle; its length is the imbalance ε
 * - `detent2Sin`, `detent2Cos`, `detent4Sin`, `detent4Cos`: T gains …·sin 2x, …·cos 2x, …·sin 4x, …·cos 4x
 * - `friction`
 */
export const PARAMETERS = [
  'zero',
  'offsetA',
  'offsetB',
  'unequalSin',
  'unequalCos',
  'detent2Sin',
  'detent2Cos',
  'detent4Sin',
  'detent4Cos',
  'friction',
] as const

/** Place of the friction in the vector. */
export const FRICTION = PARAMETERS.indexOf('friction')

export type ParameterName = (typeof PARAMETERS)[number]

/** What a person would name as one cause: the parameters that go in or stay out together. */
export type Block = 'offset' | 'imbalance' | 'detent2' | 'detent4' | 'friction'

export const BLOCKS: readonly Block[] = ['offset', 'imbalance', 'detent2', 'detent4', 'friction']

const MEMBERS: Record<Block, readonly ParameterName[]> = {
  offset: ['offsetA', 'offsetB'],
  imbalance: ['unequalSin', 'unequalCos'],
  detent2: ['detent2Sin', 'detent2Cos'],
  detent4: ['detent4Sin', 'detent4Cos'],
  friction: ['friction'],
}

const placesIn = (block: Block): readonly number[] => MEMBERS[block].map((name) => PARAMETERS.indexOf(name))
const PLACES: Record<Block, readonly number[]> = { offset: placesIn('offset'), imbalance: placesIn('imbalance'), detent2: placesIn('detent2'), detent4: placesIn('detent4'), friction: placesIn('friction') }

/** Places of a block's parameters in the vector. */
export const placesOf = (block: Block): readonly number[] => PLACES[block]

/** Size of a block: length of its two components, or the friction itself, in units of holding torque (offset: phase current). */
export const sizeOf = (block: Block, parameters: ArrayLike<number>): number =>
  Math.hypot(...placesOf(block).map((place) => parameters[place] as number))

/**
 * Components that N commanded microsteps per full step cannot show: the electrical cycle is seen at 4N places, so at N = 2
 * one component of the fourth order falls together with the zero, and at N = 1 that whole order and one component of the second.
 */
export const unseenPlaces = (microsteps: number): readonly number[] => {
  const unseen: ParameterName[] =
    microsteps === 1 ? ['unequalSin', 'detent2Sin', 'detent4Sin', 'detent4Cos'] : microsteps === 2 ? ['detent4Sin'] : []
  return unseen.map((name) => PARAMETERS.indexOf(name))
}

/** Free places of a model: the zero and the given blocks, without what N cannot show. */
export const freePlaces = (blocks: readonly Block[], microsteps: number): readonly number[] => {
  const unseen = unseenPlaces(microsteps)
  return [0, ...blocks.flatMap((block) => placesOf(block))].filter((place) => !unseen.includes(place)).sort((a, b) => a - b)
}
