/** Focal length over the picture's longer side, of phone cameras (common practice, no source), and the spread of its natural logarithm. */
export const USUAL_FOCAL = 0.85
export const FOCAL_SPREAD = 0.3

/** Spread of one radial term among usual lenses (common practice, no source); see Radial. */
export const RADIAL_SPREAD = 0.03

/** tan of a usual angle of view where the photo does not tell it: 12° (common practice, no source). */
export const USUAL_TILT = 0.21

/** A phone held over the paper slants by anything up to this where nothing in the photo excludes it, rad (common practice, no source). */
export const MOST_TILT = (25 * Math.PI) / 180
