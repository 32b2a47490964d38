/** Measures of a reference target, mm: a dark ring, within it a dial of short radial ticks, a dot in the middle. */
export const targetMm = {
  outer: 7,
  inner: 5.35,
  /** Radii between which a tick runs, and its width. */
  tickFrom: 2.5,
  tickTo: 4.1,
  tickWidth: 1.1,
  dotRadius: 1,
  /** Paper kept bare round the ring. */
  quiet: 1.5,
} as const
