/** What the parts are that a photo brings along, and what would make them less. */
const notes: Readonly<Record<string, string>> = {
  centre: 'how much all angles bend when the centre is moved as far as the photo leaves it open; less with marks all round, the shaft’s end in view, or the printed sheet',
  rectification: 'what perspective, lens and a sheet that does not lie flat leave in all angles; less with the printed sheet, or with all four corners of a flat one in view',
}

/** A note on a shared part by its name, as it stands in a trace file. */
export const noteOfShared = (source: string): string => (Object.hasOwn(notes, source) ? `from the photo: ${notes[source]}` : 'from the photo')
