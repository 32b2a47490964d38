/** A hand that points at the shaft with a mouse is believed to this share of the marks' radius. */
export const POINTED = 0.012
