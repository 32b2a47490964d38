import { perspectiveText } from '#core/report/detection-text'
import type { Result } from '#core/report/result-schema'
import { escapeHtml } from './escape.ts'
import { paragraph, section } from './parts.ts'

/** The photo with what was and was not taken for marks; null for a typed trace. */
export const sectionPhoto = ({ detection, input }: Result, overlayPng: string | null): string | null => {
  if (!detection) return null
  const doubtful = detection.marks.filter(({ confidence }) => confidence < 0.5).length
  const said = `${detection.marks.length} marks were found${doubtful > 0 ? `, ${doubtful} of them doubtful` : ''}; ${perspectiveText(detection.rectifiedBy)}.`
  const picture = overlayPng === null ? '' : `<figure><img src="data:image/png;base64,${escapeHtml(overlayPng)}" alt="${escapeHtml(`The photo ${input.name ?? ''} with every mark that was taken and every one that was refused drawn in`)}"><figcaption>Check by eye: every pen mark should carry exactly one line.</figcaption></figure>`
  return section('photo', 'The photo and the marks found in it', paragraph(said) + picture)
}
