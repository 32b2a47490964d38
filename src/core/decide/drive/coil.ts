/** One coil as it is driven: resistance Ω, inductance H, current A; null where not known. */
export interface Coil {
  readonly resistanceOhm: number | null
  readonly inductanceH: number | null
  readonly currentA: number | null
}

export interface CoilFigures {
  /** Voltage that alone would drive the rated current, V: I·R. */
  readonly ratedVoltage: number | null
  /** Supply for a chopper drive, V: 32·√(L in mH). Common practice, no source; a ceiling for useful speed, not a need. */
  readonly chopperVoltage: number | null
  /** Time constant L/R, s. */
  readonly timeConstant: number | null
  /** Full steps per second at which the current reaches only 1/√2 of its standstill value with a plain voltage drive: 4·R/(2πL). */
  readonly cornerStepRate: number | null
  /** Heat in two coils at rated current, W: 2·I²·R (full step, standing still). */
  readonly heatW: number | null
}

const both = <T>(a: number | null, b: number | null, then: (a: number, b: number) => T): T | null =>
  a === null || b === null ? null : then(a, b)

/** What the coil data say; each figure null where a part of it is missing. One electrical cycle is four full steps. */
export const coilFigures = ({ resistanceOhm, inductanceH, currentA }: Coil): CoilFigures => ({
  ratedVoltage: both(currentA, resistanceOhm, (i, r) => i * r),
  chopperVoltage: inductanceH === null ? null : 32 * Math.sqrt(inductanceH * 1000),
  timeConstant: both(inductanceH, resistanceOhm, (l, r) => l / r),
  cornerStepRate: both(inductanceH, resistanceOhm, (l, r) => (4 * r) / (2 * Math.PI * l)),
  heatW: both(currentA, resistanceOhm, (i, r) => 2 * i * i * r),
})

/** A way to use a coil that comes in two halves, against one half alone (unipolar drive), at the same heat. */
export interface WindingUse {
  readonly use: 'half' | 'series' | 'parallel'
  readonly resistance: number
  readonly inductance: number
  readonly current: number
  readonly torque: number
}

/**
 * Half winding, both halves in series, both in parallel: resistance, inductance, current and torque relative to one half at its
 * rated current, at equal copper heat. From I²R = constant and coupled halves (inductance with turns²): series 2, 4, 1/√2, √2;
 * parallel 1/2, 1, √2, √2.
 */
export const windingUses: readonly WindingUse[] = [
  { use: 'half', resistance: 1, inductance: 1, current: 1, torque: 1 },
  { use: 'series', resistance: 2, inductance: 4, current: Math.SQRT1_2, torque: Math.SQRT2 },
  { use: 'parallel', resistance: 0.5, inductance: 1, current: Math.SQRT2, torque: Math.SQRT2 },
]
