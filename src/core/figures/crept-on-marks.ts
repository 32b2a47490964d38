/**
 * Rests read so that commands on one mark moved the shaft on by as much as two marks cannot be told apart, evenly, and no
 * further than commanded. A mark is drawn where the shaft plainly moved; what it moved before is not on the paper.
 * @param anglesDeg rests 0 … K, travel positive; commands on one mark follow each other with the same angle
 * @returns null where every command has a mark of its own
 */
export const creptOnMarks = (anglesDeg: readonly number[], { expandedDeg, microstepDeg }: { readonly expandedDeg: number; readonly microstepDeg: number }): readonly number[] | null => {
  const crept = [...anglesDeg]
  let shared = false
  for (let first = 0, next = 0; first < anglesDeg.length; first = next) {
    while (next < anglesDeg.length && anglesDeg[next] === anglesDeg[first]) next++
    const steps = next - first - 1
    const each = steps > 0 ? Math.min(microstepDeg, expandedDeg / steps) : 0
    for (let k = first + 1; k < next; k++) crept[k] = (anglesDeg[k] ?? 0) + (k - first) * each
    shared ||= each > 0
  }
  return shared ? crept : null
}
