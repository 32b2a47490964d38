import { readStated } from '#core/quantity/read-quantity'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'

/** A weight on a level lever: the last that held, and the first that slipped where it was found. Kilograms and mm. */
export interface LeverWeight {
  readonly heldKg: number
  readonly slippedKg: number | null
  readonly uKg: number
  readonly radiusMm: number
  readonly uRadiusMm: number
}

export interface LeverTorque {
  readonly torqueNm: number
  /** Standard uncertainty, N·m. */
  readonly uNm: number
  readonly contributions: readonly { readonly source: string; readonly uNm: number }[]
}

const gravity = 9.80665
/** Local gravity differs from the standard value by up to 0.3 % from equator to pole (from memory); taken as rectangular. */
const gravityShare = 0.003 / Math.sqrt(3)

/**
 * Torque of a weight on a lever held level: m·g·r, with its uncertainty: mass, radius, local gravity and, when the slip lies
 * between two masses, half their difference over √3 about the middle (rectangular). The lever itself must be balanced.
 */
export const leverTorque = ({ heldKg, slippedKg, uKg, radiusMm, uRadiusMm }: LeverWeight): LeverTorque => {
  const mass = slippedKg === null ? heldKg : (heldKg + slippedKg) / 2
  const perKg = (gravity * radiusMm) / 1000
  const torqueNm = mass * perKg
  const contributions = [
    { source: 'mass', uNm: uKg * perKg },
    {
      source: 'between the last that held and the first that slipped',
      uNm: slippedKg === null ? 0 : (Math.abs(slippedKg - heldKg) / 2 / Math.sqrt(3)) * perKg,
    },
    { source: 'radius', uNm: (mass * gravity * uRadiusMm) / 1000 },
    { source: 'local gravity', uNm: torqueNm * gravityShare },
  ].filter(({ uNm }) => uNm > 0)
  return { torqueNm, uNm: Math.hypot(...contributions.map(({ uNm }) => uNm)), contributions }
}

/** "0.2 kg at 100 mm", "0.20..0.22 kg at 100 ± 1 mm", "210 ± 5 g at 4 in": held, or held..slipped, at the lever's radius. */
export const readLeverWeight = (text: string, where: string): LeverWeight | Unmeasurable => {
  const [, mass = '', radius = ''] = /^(.+?)\s+at\s+(.+)$/i.exec(text.trim()) ?? []
  if (radius === '')
    return unmeasurable(
      `"${text}" is not a weight on a lever`,
      where,
      'write it like 0.2 kg at 100 mm, or 0.20..0.22 kg at 100 ± 1 mm',
    )
  const [, low = '', high = '', unit = ''] = /^([\d.]+)\s*\.\.\s*([\d.]+)\s*([a-z]*)$/i.exec(mass.trim()) ?? []
  const held = readStated(high === '' ? mass : `${low} ${unit}`, 'mass', where)
  const slipped = high === '' ? null : readStated(`${high} ${unit}`, 'mass', where)
  const arm = readStated(radius, 'length', where)
  if (isUnmeasurable(held)) return held
  if (isUnmeasurable(slipped)) return slipped
  if (isUnmeasurable(arm)) return arm
  if (!(held.value >= 0) || !(arm.value > 0) || (slipped && slipped.value < held.value))
    return unmeasurable(
      `"${text}" holds a mass or radius that cannot be`,
      where,
      'give the mass that held first, the one that slipped second, both above zero',
    )
  return { heldKg: held.value, slippedKg: slipped?.value ?? null, uKg: held.u, radiusMm: arm.value, uRadiusMm: arm.u }
}
