import { type DriveTrain, ratioOf, travelPerTurn } from './drive-train.ts'

/** What is lost at the carriage when the direction changes, in the travel's unit. */
export interface Reversal {
  readonly total: number
  readonly parts: readonly { readonly source: string; readonly amount: number }[]
}

/**
 * Reversal at the carriage: the motor's own measured reversal (deg at its shaft, null when not measured), the play of each
 * reduction (deg at its driven shaft) carried on through the stages after it, and the output's own backlash. Summed, not
 * squared: play does not average out.
 */
export const reversalOf = ({ reductions, output }: DriveTrain, motorReversalDeg: number | null): Reversal => {
  const perTurn = travelPerTurn(output)
  const stages = reductions.map((stage, index) => ({
    source: `${stage.kind} ${stage.drivenTeeth}:${stage.drivingTeeth}`,
    amount: ((stage.backlash / 360) * perTurn) / ratioOf(reductions.slice(index + 1)),
  }))
  const motor = ((motorReversalDeg ?? 0) / 360) * (perTurn / ratioOf(reductions))
  const parts = [
    { source: 'motor', amount: Math.abs(motor) },
    ...stages,
    { source: output.kind, amount: output.backlash },
  ]
  const kept = parts.filter(({ amount }) => amount > 0)
  return { total: kept.reduce((sum, { amount }) => sum + amount, 0), parts: kept }
}
