import type { WireFindings } from './identify-wires.ts'
import type { Winding } from './windings.ts'

const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`

/** A winding in words: which wires form a coil, which are taps. */
export const windingWords = (winding: Winding): string => {
  switch (winding.kind) {
    case 'two coils':
      return `two coils: ${winding.coils.map(([a, b]) => `${a} to ${b}`).join('; ')}`
    case 'tapped coils':
      return `two coils with centre taps: ${winding.coils.map(({ centre, ends }) => `${ends[0]} to ${ends[1]} with tap ${centre}`).join('; ')}`
    case 'common tap':
      return `four half windings on the common tap ${winding.centre}: ends ${listed(winding.ends)}`
    case 'four halves':
      return `four separate half windings: ${winding.halves.map(([a, b]) => `${a} to ${b}`).join('; ')}`
  }
}

/** What the readings say, as one sentence, and what to do next. */
export const wireVerdict = ({ fitting, doubtful, next, wires }: WireFindings): string => {
  const [only] = fitting
  if (only && fitting.length === 1) return `${wires.length} wires, ${windingWords(only.winding)}.`
  if (fitting.length > 1) {
    const advice = next
      ? `measure ${next.wires[0]} to ${next.wires[1]} next`
      : 'they differ only in where the taps are: take the meter leads’ resistance off and measure again'
    return `${fitting.length} windings fit these readings: ${advice}.`
  }
  return doubtful.length > 0
    ? `The readings contradict one another; without ${listed(doubtful.map(({ wires: [a, b] }) => `${a} to ${b}`)).replace(' and ', ' or ')} the others agree: measure that again.`
    : 'The readings contradict one another in more than one place: measure all pairs again, with the motor out of its plug; a coil may be open or shorted.'
}
