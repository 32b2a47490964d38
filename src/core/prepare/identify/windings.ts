/** How a motor's wires may belong together; a half is the piece between an end and a centre tap. */
export type Winding =
  | { readonly kind: 'two coils'; readonly coils: readonly (readonly [string, string])[] }
  | {
      readonly kind: 'tapped coils'
      readonly coils: readonly { readonly centre: string; readonly ends: readonly [string, string] }[]
    }
  | { readonly kind: 'common tap'; readonly centre: string; readonly ends: readonly string[] }
  | { readonly kind: 'four halves'; readonly halves: readonly (readonly [string, string])[] }

/** Every way to put an even number of wires into pairs. */
const pairings = (wires: readonly string[]): readonly (readonly (readonly [string, string])[])[] => {
  const [first, ...rest] = wires
  if (first === undefined) return [[]]
  return rest.flatMap((second, index) =>
    pairings(rest.filter((_, other) => other !== index)).map((pairs) => [[first, second] as const, ...pairs]),
  )
}

const tappedWays = ([a, b, c]: readonly [string, string, string]) => [
  { centre: a, ends: [b, c] as const },
  { centre: b, ends: [a, c] as const },
  { centre: c, ends: [a, b] as const },
]

const tapped = (wires: readonly string[]): readonly Winding[] => {
  const [first, ...rest] = wires
  if (first === undefined) return []
  return rest.flatMap((second, i) =>
    rest.slice(i + 1).flatMap((third) => {
      const others = rest.filter((wire) => wire !== second && wire !== third)
      const [x = '', y = '', z = ''] = others
      return tappedWays([first, second, third]).flatMap((one) =>
        tappedWays([x, y, z]).map((two) => ({ kind: 'tapped coils', coils: [one, two] }) as const),
      )
    }),
  )
}

/** Every winding that so many wires can be in a two-phase motor: 4, 5, 6 or 8 wires; none for another number. */
export const windingsOf = (wires: readonly string[]): readonly Winding[] => {
  switch (wires.length) {
    case 4:
      return pairings(wires).map((coils) => ({ kind: 'two coils', coils }))
    case 5:
      return wires.map((centre) => ({ kind: 'common tap', centre, ends: wires.filter((wire) => wire !== centre) }))
    case 6:
      return tapped(wires)
    case 8:
      return pairings(wires).map((halves) => ({ kind: 'four halves', halves }))
    default:
      return []
  }
}

const betweenIn = (centre: string, ends: readonly string[], [a, b]: readonly [string, string]): number | null => {
  if (ends.includes(a) && ends.includes(b)) return 2
  return (a === centre && ends.includes(b)) || (b === centre && ends.includes(a)) ? 1 : null
}

/** Resistance between two wires in halves (whole coils where there are no taps); null when nothing joins them. */
export const halvesBetween = (winding: Winding, pair: readonly [string, string]): number | null => {
  const joined = (coil: readonly string[]): boolean => coil.includes(pair[0]) && coil.includes(pair[1])
  switch (winding.kind) {
    case 'two coils':
      return winding.coils.some(joined) ? 1 : null
    case 'four halves':
      return winding.halves.some(joined) ? 1 : null
    case 'common tap':
      return betweenIn(winding.centre, winding.ends, pair)
    case 'tapped coils':
      return (
        winding.coils.map(({ centre, ends }) => betweenIn(centre, ends, pair)).find((halves) => halves !== null) ?? null
      )
  }
}
