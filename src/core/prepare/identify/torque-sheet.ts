import { microstepTorqueShare } from '#core/decide/drive/magnetic-spring'
import { type LeverTorque, leverTorque, type LeverWeight } from './lever-torque.ts'

export interface TorqueSheet {
  readonly kind: 'torque'
  readonly holding: LeverTorque | null
  readonly detent: LeverTorque | null
  readonly friction: LeverTorque | null
  /** (detent + friction) / holding and its standard uncertainty; null without holding torque or both others. */
  readonly dead: { readonly share: number; readonly u: number } | null
  /** Finest power of two whose torque per microstep, sin(90°/N), is above that share beyond 2u; null where unknown. */
  readonly finestLikely: number | null
  readonly remarks: readonly string[]
}

const deadShare = (holding: LeverTorque | null, others: readonly LeverTorque[]): TorqueSheet['dead'] => {
  if (!holding || holding.torqueNm <= 0 || others.length === 0) return null
  const sum = others.reduce((total, { torqueNm }) => total + torqueNm, 0)
  const u = Math.hypot(...others.map(({ uNm }) => uNm))
  const share = sum / holding.torqueNm
  return { share, u: Math.hypot(u / holding.torqueNm, (share * holding.uNm) / holding.torqueNm) }
}

const finestOf = ({ share, u }: { readonly share: number; readonly u: number }): number | null => {
  const modes = [1, 2, 4, 8, 16, 32, 64, 128, 256]
  return modes.findLast((mode) => microstepTorqueShare(mode) > share + 2 * u) ?? null
}

const remarksOf = (
  holding: LeverTorque | null,
  detent: LeverTorque | null,
  finest: number | null,
): readonly string[] => [
  ...(finest === null
    ? []
    : [
        `Torque behind a microstep falls below detent and friction beyond 1/${finest} steps: finer commands are likely to merge. A prediction; a trace measures it.`,
      ]),
  ...(holding && detent && detent.torqueNm >= 0.25 * holding.torqueNm
    ? ['Detent torque is a quarter of holding torque or more: microsteps will jump, not creep.']
    : []),
]

/** A weight or a lever that nobody gave an uncertainty counts as exact, and so the torque's U says too little. */
const exactRemarks = (weights: Readonly<Record<string, LeverWeight | null>>): readonly string[] => {
  const exact = Object.entries(weights).flatMap(([name, weight]) =>
    weight && ((weight.uKg === 0 && weight.slippedKg === null) || weight.uRadiusMm === 0) ? [name] : [],
  )
  return exact.length === 0
    ? []
    : [
        `Weight or lever of ${exact.join(', ')} was given without an uncertainty and counts as exact, so U says too little: write the last weight that held and the first that slipped, and how well the lever is known, such as "0.20..0.22 kg at 100 ± 1 mm".`,
      ]
}

/**
 * The lever-and-weight worksheet: holding torque (current on), detent torque (current off, what must be overcome to click over less
 * friction) and friction, each with its uncertainty, and what they let one expect of microsteps.
 */
export const torqueSheet = (weights: {
  readonly holding: LeverWeight | null
  readonly detent: LeverWeight | null
  readonly friction: LeverWeight | null
}): TorqueSheet => {
  const [holding, detent, friction] = [weights.holding, weights.detent, weights.friction].map(
    (weight) => weight && leverTorque(weight),
  ) as [LeverTorque | null, LeverTorque | null, LeverTorque | null]
  const dead = deadShare(
    holding,
    [detent, friction].filter((torque) => torque !== null),
  )
  const finestLikely = dead && finestOf(dead)
  return {
    kind: 'torque',
    holding,
    detent,
    friction,
    dead,
    finestLikely,
    remarks: [...remarksOf(holding, detent, finestLikely), ...exactRemarks(weights)],
  }
}
