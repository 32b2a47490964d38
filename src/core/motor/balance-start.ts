import { linearLeastSquares } from '#core/numeric/least-squares'
import type { FoldedPattern } from './folded-pattern.ts'
import { FRICTION } from './rest-parameters.ts'
import { torqueTerms } from './steady-cycle.ts'

/**
 * A start from the balance of torques itself: with the measured rests put in, T(x) = ±f is linear in all parameters but the
 * zero, so each tried zero gives one set of them by linear least squares. Null when N or the data leave one open.
 */
export const balanceStart = (pattern: FoldedPattern, places: readonly number[], zero: number): number[] | null => {
  const torques = places.filter((place) => place !== 0)
  const rows = pattern.legs.flatMap(({ direction, mean, count }) =>
    Array.from(mean, (value, i) => {
      const phi = (2 * Math.PI * i) / pattern.phases
      const terms = torqueTerms(phi + value - zero, phi)
      const weight = Math.sqrt(count[i] as number)
      return {
        pull: weight * Math.sin(value - zero),
        terms: torques.map((place) => weight * (place === FRICTION ? -direction : (terms[place - 1] as number))),
      }
    }),
  )
  const fit = linearLeastSquares(torques.map((_, j) => rows.map((row) => row.terms[j] as number)), rows.map((row) => row.pull))
  return fit && places.map((place) => (place === 0 ? zero : (fit.coefficients[torques.indexOf(place)] as number)))
}

/** Zeros to try, electrical rad: a single direction hides its lag in the zero, two directions show it. */
export const zerosToTry = (pattern: FoldedPattern): readonly number[] => {
  const [first] = pattern.legs
  return pattern.legs.length > 1 ? [-0.1, 0, 0.1] : [-0.1, 0, 0.1, 0.2, 0.35, 0.5].map((zero) => zero * (first?.direction ?? 1))
}
