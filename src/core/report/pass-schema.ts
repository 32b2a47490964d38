import * as z from 'zod'

const finite = z.number()

/** Figures of ISO 230-2, deg at the shaft. */
const axisFigures = z.object({
  reversalDeg: finite,
  meanReversalDeg: finite,
  systematicForwardDeg: finite,
  systematicBackwardDeg: finite,
  systematicDeg: finite,
  meanDeviationDeg: finite,
  repeatabilityForwardDeg: finite,
  repeatabilityBackwardDeg: finite,
  repeatabilityDeg: finite,
  accuracyForwardDeg: finite,
  accuracyBackwardDeg: finite,
  accuracyDeg: finite,
})

/** Repeated runs. */
export const passTableSchema = z.object({
  outward: finite,
  back: finite,
  /** Scatter of one run about the mean of those in the main direction; null with a single run. */
  repeatabilityDeg: finite.nullable(),
  degreesOfFreedom: finite.nullable(),
  offsets: z.array(z.object({ pass: finite, direction: z.union([z.literal(1), z.literal(-1)]), offsetDeg: finite })),
  drift: z.enum(['none', 'trend', 'slip', 'unsteady']),
  slip: z.object({ pass: finite, command: finite, deg: finite }).nullable(),
  /** What it takes to get the figures of ISO 230-2; null when they are there. */
  iso230Missing: z.string().nullable(),
})

/** Outward against return; B_k = mean forward − mean backward. */
export const directionsSchema = z.object({
  reversalDeg: finite,
  reversalUDeg: finite,
  reversalMaxDeg: finite,
  deadBandDeg: finite.nullable(),
  perCommand: z.array(z.object({ command: finite, reversalDeg: finite })),
  iso230: axisFigures.nullable(),
})
