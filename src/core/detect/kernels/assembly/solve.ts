/**
 * Cholesky's factor of a symmetric matrix in place, `size` numbers to a row, the lower triangle alone read and written.
 * @returns false when the matrix is not positive definite; it is then of no use
 */
export function factor(lower: usize, size: i32): bool {
  const row: usize = 8 * size
  for (let i = 0; i < size; i++) {
    const own = lower + row * i
    for (let j = 0; j <= i; j++) {
      const other = lower + row * j
      let rest = load<f64>(own + 8 * j)
      for (let m = 0; m < j; m++) rest -= load<f64>(own + 8 * m) * load<f64>(other + 8 * m)
      if (i !== j) store<f64>(own + 8 * j, rest / load<f64>(other + 8 * j))
      else if (rest > 0) store<f64>(own + 8 * i, Math.sqrt(rest))
      else return false
    }
  }
  return true
}

/** Solves L·Lᵀ·x = right in place, for a factor made by `factor`. */
export function solve(lower: usize, x: usize, size: i32): void {
  const row: usize = 8 * size
  for (let i = 0; i < size; i++) {
    let rest = load<f64>(x + 8 * i)
    for (let j = 0; j < i; j++) rest -= load<f64>(lower + row * i + 8 * j) * load<f64>(x + 8 * j)
    store<f64>(x + 8 * i, rest / load<f64>(lower + row * i + 8 * i))
  }
  for (let i = size - 1; i >= 0; i--) {
    let rest = load<f64>(x + 8 * i)
    for (let j = i + 1; j < size; j++) rest -= load<f64>(lower + row * j + 8 * i) * load<f64>(x + 8 * j)
    store<f64>(x + 8 * i, rest / load<f64>(lower + row * i + 8 * i))
  }
}

/** The value that `rank` others are no greater than, by Hoare's selection; reorders the values. */
export function nthSmallest(values: usize, count: i32, rank: i32): f64 {
  let low = 0
  let high = count - 1
  while (low < high) {
    const pivot = load<f64>(values + 8 * ((low + high) >> 1))
    let i = low
    let j = high
    while (i <= j) {
      while (load<f64>(values + 8 * i) < pivot) i++
      while (load<f64>(values + 8 * j) > pivot) j--
      if (i > j) break
      const swapped = load<f64>(values + 8 * i)
      store<f64>(values + 8 * i++, load<f64>(values + 8 * j))
      store<f64>(values + 8 * j--, swapped)
    }
    if (rank <= j) high = j
    else if (rank >= i) low = i
    else break
  }
  return load<f64>(values + 8 * rank)
}
