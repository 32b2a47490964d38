/** One parser under fuzzing. */
export interface Target {
  readonly name: string
  /** Inputs to begin from. */
  readonly corpus: readonly Uint8Array[]
  /** Feeds one input; throws when the parser throws or breaks a promise of its own. Says whether it was taken. */
  readonly run: (input: Uint8Array) => boolean | Promise<boolean>
}

const decoder = new TextDecoder()
const encoder = new TextEncoder()

export const textOf = (bytes: Uint8Array): string => decoder.decode(bytes)
export const bytesOf = (text: string): Uint8Array => encoder.encode(text)

/** A promise that an input broke. */
export const broken = (promise: string): never => {
  throw new Error(`promise broken: ${promise}`)
}
