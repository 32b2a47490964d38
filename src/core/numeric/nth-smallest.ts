/**
 * The value that `rank` others are no greater than (0: the smallest), by Hoare's selection (CACM 4 (1961) 321): a few passes
 * where sorting takes many. Reorders the array.
 * @returns NaN for a rank outside the array; values must not be NaN
 */
export const nthSmallest = (values: Float64Array, rank: number): number => {
  let low = 0
  let high = values.length - 1
  while (low < high) {
    const pivot = values[(low + high) >> 1] as number
    let i = low
    let j = high
    while (i <= j) {
      while ((values[i] as number) < pivot) i++
      while ((values[j] as number) > pivot) j--
      if (i > j) break
      const swapped = values[i] as number
      values[i++] = values[j] as number
      values[j--] = swapped
    }
    if (rank <= j) high = j
    else if (rank >= i) low = i
    else break
  }
  return values[rank] ?? Number.NaN
}
