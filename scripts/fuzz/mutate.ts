type Random = () => number

const below = (random: Random, most: number): number => Math.floor(random() * most)

const pick = <T>(random: Random, from: readonly T[], otherwise: T): T => from[below(random, from.length)] ?? otherwise

/** Pieces that parsers of these formats stumble over. */
const pieces = ['NaN', '-0', '1e999', '1e-400', '9'.repeat(40), '-', '\u2212', '±', ',', ';', '\t', '"', '""', '\r', '\n', '\r\n', '# ', '#a:', '\uFEFF', '\u0000', '\u202e', '\ud83d\ude00', '{', '[', '}', ']', 'null', '__proto__', '<!-- stepwitness begin a -->', '<!-- stepwitness end a -->', '---\n', '&a', '*a', '0x10', '1_000', 'SWS'].map((text) => new TextEncoder().encode(text))

const spliced = (input: Uint8Array, at: number, [cut, piece]: readonly [number, Uint8Array]): Uint8Array => {
  const rest = input.subarray(Math.min(input.length, at + cut))
  const out = new Uint8Array(at + piece.length + rest.length)
  out.set(input.subarray(0, at))
  out.set(piece, at)
  out.set(rest, at + piece.length)
  return out
}

const flipped = (input: Uint8Array, at: number, random: Random): Uint8Array => {
  const out = Uint8Array.from(input)
  out[at] = random() < 0.5 ? (out[at] ?? 0) ^ (1 << below(random, 8)) : below(random, 256)
  return out
}

/** One change: a bit or byte, a piece put in, a stretch cut out, doubled, or taken from another input, the end cut off. */
const once = (input: Uint8Array, other: Uint8Array, random: Random): Uint8Array => {
  const at = below(random, input.length + 1)
  const length = below(random, Math.min(64, input.length) + 1)
  switch (below(random, 7)) {
    case 0:
    case 1:
      return input.length === 0 ? input : flipped(input, Math.min(at, input.length - 1), random)
    case 2:
      return spliced(input, at, [below(random, 4), pick(random, pieces, new Uint8Array())])
    case 3:
      return spliced(input, at, [length, new Uint8Array()])
    case 4:
      return spliced(input, at, [0, input.subarray(at, at + length)])
    case 5: {
      const from = below(random, other.length + 1)
      return spliced(input, at, [length, other.subarray(from, from + length)])
    }
    default:
      return random() < 0.1 ? input.subarray(0, at) : flipped(input, Math.min(at, Math.max(0, input.length - 1)), random)
  }
}

/** An input one to eight changes away from one of the corpus, most often one or two. @param random numbers in 0 … 1 */
export const mutated = (corpus: readonly Uint8Array[], random: Random): Uint8Array => {
  let input = pick(random, corpus, new Uint8Array())
  for (let changes = 1 + Math.floor(8 * random() ** 3); changes > 0; changes--) input = once(input, pick(random, corpus, new Uint8Array()), random)
  return input
}
