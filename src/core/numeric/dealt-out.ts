/** Values dealt out in turn to so many hands: hand h gets the values at h, h + hands, h + 2·hands … in their order. */
export const dealtOut = (values: readonly number[], hands: number): number[][] => {
  const dealt = Array.from({ length: hands }, (): number[] => [])
  for (let i = 0; i < values.length; i++) (dealt[i % hands] as number[]).push(values[i] as number)
  return dealt
}
