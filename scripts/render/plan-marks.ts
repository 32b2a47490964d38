import type { PlannedMark } from './mark.ts'
import type { Run } from './choose-run.ts'
import type { Random } from './random.ts'

export interface MarkZone {
  /** Bearing of the start mark, deg counter-clockwise. */
  readonly startDeg: number
  /** 1: the shaft turns counter-clockwise as seen. */
  readonly travel: 1 | -1
  readonly innerMm: number
  readonly lengthMm: number
  /** Unevenness of starts and lengths, as a share of the length. */
  readonly uneven: number
  /** A pointer that moved less than this draws no new mark, mm. */
  readonly sameMm: number
}

/** One planned mark per rest position that a hand would mark anew. */
export const planMarks = (random: Random, run: Run, zone: MarkZone): readonly PlannedMark[] => {
  const perDeg = ((zone.innerMm + zone.lengthMm / 2) * Math.PI) / 180
  const stays: { at: number; commands: number[] }[] = []
  run.restsDeg.forEach((rest, command) => {
    const last = stays[stays.length - 1]
    const first = stays[0]
    if (last !== undefined && Math.abs(rest - last.at) * perDeg < zone.sameMm) last.commands.push(command)
    else if (run.fullTurn && command > 0 && first !== undefined && Math.abs(rest - 360 - first.at) * perDeg < zone.sameMm) first.commands.push(command)
    else stays.push({ at: rest, commands: [command] })
  })
  return stays.map(({ at, commands }) => {
    const long = command0(commands) % 10 === 0 ? 1.25 : 1
    const innerMm = zone.innerMm + zone.uneven * zone.lengthMm * random.range(0, 0.5)
    const lengthMm = Math.max(3.5, zone.lengthMm * long * (1 + zone.uneven * random.range(-0.5, 0.5)))
    return { commands, bearingDeg: zone.startDeg + zone.travel * at, innerMm, outerMm: innerMm + lengthMm }
  })
}

const command0 = (commands: readonly number[]): number => commands[0] ?? 0
