import { beamHalfAngle } from './mark-spacing.ts'
import { type PlanSetup, spanDeg } from './plan-setup.ts'

/** ISO 216 sheets, mm, smallest first; Letter beside A4. */
const sheets: readonly (readonly [name: string, short: number, long: number])[] = [
  ['A4', 210, 297],
  ['A3', 297, 420],
  ['A2', 420, 594],
  ['A1', 594, 841],
  ['A0', 841, 1189],
]

const marginMm = 12

export interface PaperNeeded {
  readonly widthMm: number
  readonly heightMm: number
  /** Smallest ISO sheet it fits on, marks and margin; null when several must be joined. */
  readonly sheet: string | null
  /** A4 sheets joined end to end along the longer side that would do instead; null where the shorter side is too wide for that. */
  readonly a4EndToEnd: number | null
}

/** Box around an arc of radius r, symmetric about its middle, centre of the dial included. */
const arcBox = (radius: number, span: number): readonly [number, number] => {
  const half = Math.min(180, span / 2) * (Math.PI / 180)
  return [
    2 * radius * (half >= Math.PI / 2 ? 1 : Math.sin(half)),
    radius * (1 + (half > Math.PI / 2 ? -Math.cos(half) : 0)),
  ]
}

/** Paper for a dial (arc and centre) or a wall strip (40 mm high), with a 12 mm margin, and the ISO 216 sheet it fits on. */
export const paperNeeded = (setup: PlanSetup): PaperNeeded => {
  const strip =
    setup.rig.kind === 'mirror'
      ? 2 * setup.rig.distanceMm * Math.tan(Math.min(89.9, beamHalfAngle(setup)) * (Math.PI / 180))
      : 0
  const [across, along] = setup.rig.kind === 'pointer' ? arcBox(setup.rig.lengthMm, spanDeg(setup)) : [strip, 40]
  const [widthMm, heightMm] = [across + 2 * marginMm, along + 2 * marginMm]
  const [short, long] = [Math.min(widthMm, heightMm), Math.max(widthMm, heightMm)]
  const a4EndToEnd = short <= 210 ? Math.ceil(long / 297) : null
  return { widthMm, heightMm, sheet: sheets.find(([, s, l]) => short <= s && long <= l)?.[0] ?? null, a4EndToEnd }
}
