/** Between a plane's pixels by bilinear interpolation; the edge value goes on outside. */
function sample(plane: usize, width: i32, height: i32, x: f64, y: f64): f64 {
  const cx = Math.min(Math.max(x, 0), <f64>width - 1.001)
  const cy = Math.min(Math.max(y, 0), <f64>height - 1.001)
  const ix = Math.floor(cx)
  const iy = Math.floor(cy)
  const fx = cx - ix
  const fy = cy - iy
  const above = plane + 4 * (<i32>iy * width + <i32>ix)
  const below = above + 4 * width
  const top = <f64>load<f32>(above) * (1 - fx) + <f64>load<f32>(above, 4) * fx
  const bottom = <f64>load<f32>(below) * (1 - fx) + <f64>load<f32>(below, 4) * fx
  return top * (1 - fy) + bottom * fy
}

/** Five numbers to a segment: x, y where it starts, the unit vector along it, its length. */
const SEGMENT = 40
/** Places along a segment that are enough to say what it looks like across. */
const MOST_PLACES = 24

/**
 * Mean brightness across segments, from −reach to reach px, over places along each.
 * @param perPx numbers to a px
 * @param into 2 · reach · perPx + 1 numbers for each segment
 */
export function profiles(plane: usize, width: i32, height: i32, segments: usize, count: i32, reach: i32, perPx: i32, into: usize): void {
  const size = 2 * reach * perPx + 1
  memory.fill(into, 0, 8 * size * count)
  for (const end = segments + SEGMENT * count; segments < end; segments += SEGMENT, into += 8 * size) {
    const ax = load<f64>(segments, 16)
    const ay = load<f64>(segments, 24)
    const length = load<f64>(segments, 32)
    const places = Math.max(3, Math.min(MOST_PLACES, Math.floor(length + 0.5)))
    for (let n = 0.0; n < places; n++) {
      const t = (length * (n + 0.5)) / places
      const x = load<f64>(segments) + t * ax
      const y = load<f64>(segments, 8) + t * ay
      for (let i = 0; i < size; i++) {
        const s = <f64>i / <f64>perPx - <f64>reach
        store<f64>(into + 8 * i, load<f64>(into + 8 * i) + sample(plane, width, height, x - s * ay, y + s * ax) / places)
      }
    }
  }
}
