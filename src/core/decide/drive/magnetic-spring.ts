/**
 * Torque that one microstep of lag gives, as a share of holding torque: sin(90°/N); 1 for N = 1.
 * Source: published incremental-torque formula; holding torque itself does not fall with N.
 */
export const microstepTorqueShare = (microsteps: number): number => Math.sin(Math.PI / 2 / microsteps)

/** Stiffness of the motor as a magnetic spring about a rest position, N·m per rad of shaft: holding torque (N·m) × S/4. */
export const springStiffness = (holdingNm: number, stepsPerRev: number): number => (holdingNm * stepsPerRev) / 4

/**
 * How far the shaft stands behind its commanded angle under a steady torque, deg of shaft: asin(T/T_hold)/(S/4).
 * Exact for a sinusoidal torque curve; null when the torque reaches holding torque (the motor slips).
 */
export const lagDeg = (
  torqueNm: number,
  { holdingNm, stepsPerRev }: { readonly holdingNm: number; readonly stepsPerRev: number },
): number | null => {
  const share = torqueNm / holdingNm
  return Math.abs(share) < 1 ? (Math.asin(share) * 180) / Math.PI / (stepsPerRev / 4) : null
}

/** Commands of 1/N that pass before the shaft moves against dry friction from a centred rest: ceil(asin(f)/(90°/N)), f < 1 of holding torque. */
export const commandsBeforeMotion = (frictionShare: number, microsteps: number): number =>
  frictionShare >= 1 ? Number.POSITIVE_INFINITY : Math.ceil((Math.asin(frictionShare) * 2 * microsteps) / Math.PI)
