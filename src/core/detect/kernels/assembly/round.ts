import { bared } from './ink'
import { nthSmallest } from './solve'

/** Grey between pixels by bilinear interpolation; the edge value goes on outside. */
function greyAt(photo: usize, width: i32, height: i32, x: f64, y: f64): f64 {
  const cx = Math.min(Math.max(x, 0), <f64>width - 1.001)
  const cy = Math.min(Math.max(y, 0), <f64>height - 1.001)
  const ix = <i32>cx
  const iy = <i32>cy
  const fx = cx - <f64>ix
  const fy = cy - <f64>iy
  const at = photo + iy * width + ix
  const top = <f64>load<u8>(at) * (1 - fx) + <f64>load<u8>(at + 1) * fx
  const bottom = <f64>load<u8>(at + width) * (1 - fx) + <f64>load<u8>(at + width + 1) * fx
  return top * (1 - fy) + bottom * fy
}

/**
 * Mean brightness along each piece of a ray after strokes' ink is taken out.
 * @param ray x, then y, each as a parabola of the share of the way: three numbers
 * @param inks the strokes that may lie there
 * @param places how many on the whole ray, a multiple of `pieces`
 * @param into one number for each piece
 */
export function leftAlong(photo: usize, width: i32, height: i32, ray: usize, inks: usize, count: i32, places: i32, pieces: i32, into: usize): void {
  const each = places / pieces
  for (let piece = 0, k = 0; piece < pieces; piece++) {
    let sum = 0.0
    for (const end = k + each; k < end; k++) {
      const share = (<f64>k + 0.5) / <f64>places
      const x = load<f64>(ray) + share * (load<f64>(ray, 8) + share * load<f64>(ray, 16))
      const y = load<f64>(ray, 24) + share * (load<f64>(ray, 32) + share * load<f64>(ray, 40))
      sum += (bared(greyAt(photo, width, height, x, y), inks, count, x, y) * <f64>pieces) / <f64>places
    }
    store<f64>(into + 8 * piece, sum)
  }
}

/**
 * For each value the one that three fifths of every `every`-th value within `half` places do not exceed.
 * @param window room for these
 */
export function runningLevels(values: usize, count: i32, half: i32, every: i32, window: usize, into: usize): void {
  for (let i = 0; i < count; i++) {
    let n = 0
    for (let at = i - half; at <= i + half; at += every) if (at >= 0 && at < count) store<f64>(window + 8 * n++, load<f64>(values + 8 * at))
    store<f64>(into + 8 * i, n === 0 ? 0 : nthSmallest(window, n, <i32>Math.floor(0.6 * <f64>n)))
  }
}
