/** A value that costs something to make: made when first asked for, then kept. */
export const once = <T>(make: () => T): (() => T) => {
  let made: { readonly value: T } | null = null
  return () => {
    made ??= { value: make() }
    return made.value
  }
}
