/** Designs of the printed sheet that can be read: in 1 the code could lie on the trim of US Letter, and the cut dashes ran all round. */
export const sheetVersions = [1, 2] as const
export type SheetVersion = (typeof sheetVersions)[number]

/** Version of the design that is printed; a photo of a later one is refused with a clear word. */
export const sheetVersion: SheetVersion = 2

/** Length of the printed scale bar, mm. */
export const scaleBarMm = 100
