/** Papers the sheet is made for. */
export type PaperName = 'a4' | 'letter'

/** pointer: marks about a shaft; mirror: marks along a strip on the wall. */
export type SheetRig = 'pointer' | 'mirror'

/** mm in the sheet's frame: x right, y down as printed, origin at the shaft centre (pointer) or at tick 0 (strip). */
export type Place = readonly [xMm: number, yMm: number]

/** Upright paper sizes, mm: A4 of ISO 216; Letter of ANSI/ASME Y14.1 (8.5 × 11 in). */
export const paperMm: Readonly<Record<PaperName, { readonly width: number; readonly height: number }>> = {
  a4: { width: 210, height: 297 },
  letter: { width: 215.9, height: 279.4 },
}

/** Strip of paper round a page that is cut away (or left blank) when pages are joined; no printer fails to reach beyond it. */
export const trimMm = 10

/** The page as it is used: upright for the pointer, on its side for the strip. mm. */
export const pageMm = (rig: SheetRig, paper: PaperName): { readonly width: number; readonly height: number } => {
  const { width, height } = paperMm[paper]
  return rig === 'pointer' ? { width, height } : { width: height, height: width }
}

/** What is left of a page inside its trim: the pitch at which pages are joined. mm. */
export const cellMm = (rig: SheetRig, paper: PaperName): { readonly width: number; readonly height: number } => {
  const { width, height } = pageMm(rig, paper)
  return { width: width - 2 * trimMm, height: height - 2 * trimMm }
}
