import { windingUses } from '#core/decide/drive/coil'
import type { Winding } from './windings.ts'

/** A way to connect the motor, against one half (or the whole coil where there are no taps) at its rated current. */
export interface WiringChoice {
  readonly name:
    | 'unipolar'
    | 'bipolar, half winding'
    | 'bipolar, full winding (series)'
    | 'bipolar, halves in parallel'
    | 'bipolar'
  readonly how: string
  /** Resistance of a phase, Ω; null when no resistance was measured. */
  readonly phaseOhm: number | null
  /** Current for the same heat, relative to the rated current of a half. */
  readonly current: number
  /** Torque standing still, relative to one half at its rated current. */
  readonly torque: number
  /** Inductance, relative to one half: what slows the current down at speed. */
  readonly inductance: number
  readonly consequence: string
}

const use = (kind: 'half' | 'series' | 'parallel') =>
  windingUses.find((known) => known.use === kind) ?? { resistance: 1, inductance: 1, current: 1, torque: 1 }

const choice = (
  name: WiringChoice['name'],
  kind: 'half' | 'series' | 'parallel',
  halfOhm: number | null,
  words: { readonly how: string; readonly consequence: string },
): WiringChoice => {
  const { resistance, inductance, current, torque } = use(kind)
  return { name, phaseOhm: halfOhm === null ? null : halfOhm * resistance, current, torque, inductance, ...words }
}

const consequences = {
  unipolar: 'simplest driver; only half the copper works at a time',
  half: 'behaves as unipolar does, on a bipolar driver; the other ends stay loose and must be insulated',
  series: 'most torque standing still for the least current; four times the inductance, so it fades early at speed',
  parallel: 'the same torque standing still, and it keeps it to higher speed; the driver must give the higher current',
} as const

const tappedChoices = (halfOhm: number | null, taps: string, halves: string, ends: string): readonly WiringChoice[] => [
  choice('unipolar', 'half', halfOhm, {
    how: `${taps} to the supply, each end to its switch`,
    consequence: consequences.unipolar,
  }),
  choice('bipolar, half winding', 'half', halfOhm, {
    how: `${halves}, the other ends insulated`,
    consequence: consequences.half,
  }),
  choice('bipolar, full winding (series)', 'series', halfOhm, { how: ends, consequence: consequences.series }),
]

/** The ways to wire a winding, each with what it means; equal heat is assumed throughout. Five wires allow unipolar only, unless the common tap can be cut open. */
export const wiringChoices = (winding: Winding, halfOhm: number | null): readonly WiringChoice[] => {
  switch (winding.kind) {
    case 'two coils':
      return [
        choice('bipolar', 'half', halfOhm, {
          how: winding.coils.map(([a, b]) => `${a} and ${b}`).join('; '),
          consequence: 'the one way to drive it; swap the two wires of one coil to turn the other way',
        }),
      ]
    case 'common tap':
      return [
        choice('unipolar', 'half', halfOhm, {
          how: `${winding.centre} to the supply; ${winding.ends.join(', ')} to the switches`,
          consequence: `${consequences.unipolar}; a bipolar driver needs the common tap cut open`,
        }),
      ]
    case 'tapped coils':
      return tappedChoices(
        halfOhm,
        winding.coils.map(({ centre }) => centre).join(' and '),
        winding.coils.map(({ centre, ends }) => `${centre} and ${ends[0]}`).join('; '),
        `${winding.coils.map(({ ends }) => `${ends[0]} and ${ends[1]}`).join('; ')}, taps insulated`,
      )
    case 'four halves':
      return [
        ...tappedChoices(
          halfOhm,
          'the joint of each phase’s halves',
          'one half of each phase',
          'the halves of a phase one after the other, end of one to start of the next',
        ),
        choice('bipolar, halves in parallel', 'parallel', halfOhm, {
          how: 'the halves of a phase side by side, start to start and end to end',
          consequence: consequences.parallel,
        }),
      ]
  }
}

/** What resistances cannot say, and how to find it out (common practice, no source); empty when they say all. */
export const stillOpen = ({ kind }: Winding): string => {
  if (kind === 'four halves')
    return 'Which halves share a phase, and which way round: join one end of two halves, put a short pulse of low voltage on one and watch the other with a meter; halves of one phase show a kick, of different phases hardly any. In series the pair must give more torque than one alone; if it gives none, turn one half round.'
  return kind === 'common tap'
    ? 'Which ends share a phase: switch the supply to the common tap and touch the ends one after the other; the order in which the shaft goes on by one step each time is the stepping order.'
    : ''
}
