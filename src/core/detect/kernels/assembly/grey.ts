/** Luma of stored pixels with integer weights of 1/256; of grey the grey itself. Three channels take 16 pixels at a time. */
export function luma(samples: usize, channels: i32, count: i32, into: usize): void {
  let x = 0
  if (channels == 3) for (; x + 16 <= count; x += 16) luma16(samples + 3 * x, into + x)
  const green: usize = channels >= 3 ? 1 : 0
  const blue: usize = channels >= 3 ? 2 : 0
  for (; x < count; x++) {
    const at = samples + x * channels
    const sum = 77 * <u32>load<u8>(at) + 150 * <u32>load<u8>(at + green) + 29 * <u32>load<u8>(at + blue)
    store<u8>(into + x, (sum + 128) >> 8)
  }
}

/** Sixteen pixels of three channels: each colour picked out of the 48 bytes, then mixed. */
function luma16(from: usize, into: usize): void {
  const a = v128.load(from)
  const b = v128.load(from, 16)
  const c = v128.load(from, 32)
  const red = i8x16.shuffle(i8x16.shuffle(a, b, 0, 3, 6, 9, 12, 15, 18, 21, 24, 27, 30, 0, 0, 0, 0, 0), c, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 17, 20, 23, 26, 29)
  const green = i8x16.shuffle(i8x16.shuffle(a, b, 1, 4, 7, 10, 13, 16, 19, 22, 25, 28, 31, 0, 0, 0, 0, 0), c, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 18, 21, 24, 27, 30)
  const blue = i8x16.shuffle(i8x16.shuffle(a, b, 2, 5, 8, 11, 14, 17, 20, 23, 26, 29, 0, 0, 0, 0, 0, 0), c, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 16, 19, 22, 25, 28, 31)
  v128.store(into, mix(red, green, blue))
}

@inline
function mix(red: v128, green: v128, blue: v128): v128 {
  const low = mixHalf(i16x8.extend_low_i8x16_u(red), i16x8.extend_low_i8x16_u(green), i16x8.extend_low_i8x16_u(blue))
  const high = mixHalf(i16x8.extend_high_i8x16_u(red), i16x8.extend_high_i8x16_u(green), i16x8.extend_high_i8x16_u(blue))
  return i8x16.narrow_i16x8_u(low, high)
}

@inline
function mixHalf(red: v128, green: v128, blue: v128): v128 {
  const sum = i16x8.add(i16x8.mul(red, i16x8.splat(77)), i16x8.add(i16x8.mul(green, i16x8.splat(150)), i16x8.mul(blue, i16x8.splat(29))))
  return i16x8.shr_u(i16x8.add(sum, i16x8.splat(128)), 8)
}

/** Lays pixels over white where they are not opaque. */
export function overWhite(samples: usize, channels: i32, count: i32, grey: usize): void {
  for (let x = 0; x < count; x++) {
    const alpha = <f64>load<u8>(samples + x * channels + channels - 1)
    const value = <f64>load<u8>(grey + x)
    store<u8>(grey + x, <u8>(255 + <i32>Math.round(((value - 255) * alpha) / 255)))
  }
}

/** Writes a block of rows where it belongs in the upright picture: stored column after stored column. */
export function turn(block: usize, width: i32, rows: i32, to: usize, right: i32, below: i32): void {
  if (right == 1) {
    for (let j = 0; j < rows; j++) memory.copy(to + j * below, block + j * width, width)
    return
  }
  for (let x = 0; x < width; x++) {
    let at = to + x * right
    const end = block + rows * width
    for (let from = block + x; from < end; from += width, at += below) store<u8>(at, load<u8>(from))
  }
}
