/** A phone held over the paper slants by anything up to this where nothing in the photo excludes it, rad (common practice, no source). */
export const MOST_TILT = (25 * Math.PI) / 180
