/** No usual pen draws wider than this, mm (common practice, no source). */
const WIDEST_PEN_MM = 2

/** Are strokes of this width, px, more than a pen draws, and so several that the photo cannot tell apart? @param pixelsPerMm null when not known */
export const areBundles = (widthPx: number, pixelsPerMm: number | null): boolean => pixelsPerMm !== null && widthPx > WIDEST_PEN_MM * pixelsPerMm

/** Standard uncertainty of a rest that may lie anywhere across a bundle's ink, px: an even spread over its width. */
export const bundleDoubtPx = (widthPx: number): number => widthPx / Math.sqrt(12)
