import type { Figure } from '#core/report/figures/chart'
import { plotSet } from '#core/report/plots/plot-set'
import type { Result } from '#core/report/result-schema'
import { verdictHeadline } from '#core/report/verdict-sentence'
import { bootScript } from './boot-script.ts'
import { embeddedJson, escapeHtml } from './escape.ts'
import { sectionAssignment } from './section-assignment.ts'
import { sectionCautions } from './section-cautions.ts'
import { sectionCorrection } from './section-correction.ts'
import { sectionDirections } from './section-directions.ts'
import { sectionKeyFigures } from './section-key-figures.ts'
import { sectionModes } from './section-modes.ts'
import { sectionMotorFit } from './section-motor-fit.ts'
import { sectionPasses } from './section-passes.ts'
import { sectionPattern } from './section-pattern.ts'
import { sectionPhoto } from './section-photo.ts'
import { sectionPlots } from './section-plots.ts'
import { sectionPredictions } from './section-predictions.ts'
import { sectionReproduce } from './section-reproduce.ts'
import { sectionRigFaults } from './section-rig-faults.ts'
import { sectionUncertainty } from './section-uncertainty.ts'
import { sectionVerdict } from './section-verdict.ts'
import { sectionWarnings } from './section-warnings.ts'
import { style } from './style.ts'

/** What a report needs beside the result. */
export interface ReportParts {
  /** The plotting library as the text of a script element; nothing in it may end that element. */
  readonly plotlyScript: string
  /** SHA-256 of a text's UTF-8 bytes, base64: the page allows only scripts with these hashes. */
  readonly sha256Base64: (text: string) => string
  readonly figures: readonly Figure[]
  /** overlay.png of a photo, base64. */
  readonly overlayPng?: string | null
  /** Sections of others, HTML already, placed before the warnings. */
  readonly more?: readonly (string | null)[]
}

/** Everything from elsewhere is forbidden, every script but the two of the page itself too. */
const policy = (hashes: readonly string[]): string =>
  `default-src 'none'; script-src ${hashes.map((hash) => `'sha256-${hash}'`).join(' ')}; style-src 'unsafe-inline'; img-src data: blob:; base-uri 'none'; form-action 'none'`

/** Links to the sections that are there. */
const contents = (sections: readonly string[]): string => {
  const titles = sections.flatMap((html) => [...html.matchAll(/<section id="([^"]+)"[^>]*><h2 [^>]*>([^<]*)<\/h2>/g)])
  return `<nav aria-label="Contents"><ul>${titles.map(([, id, title]) => `<li><a href="#${id}">${title}</a></li>`).join('')}</ul></nav>`
}

const sectionsOf = (result: Result, { figures, overlayPng = null, more = [] }: ReportParts, plots: ReturnType<typeof plotSet>): string[] =>
  [
    sectionKeyFigures(result),
    sectionWarnings(result),
    sectionModes(result),
    sectionMotorFit(result),
    sectionPredictions(result),
    sectionPasses(result),
    sectionDirections(result),
    ...more,
    sectionPlots(plots, figures),
    sectionPhoto(result, overlayPng),
    sectionPattern(result),
    sectionCorrection(result),
    sectionAssignment(result),
    sectionRigFaults(result),
    sectionUncertainty(result),
    sectionCautions(result),
    sectionReproduce(result),
  ].filter((html) => html !== null)

/**
 * The whole report as one file that opens offline and reads without scripts: verdict first, then figures, plots, the way
 * they came about, cautions, and how to get them again.
 */
export const reportHtml = (result: Result, parts: ReportParts): string => {
  const plots = plotSet(result)
  const sections = sectionsOf(result, parts, plots)
  const title = escapeHtml(`${result.motor.name}: ${verdictHeadline(result)}`)
  const { plotlyScript, sha256Base64 } = parts
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy([plotlyScript, bootScript].map(sha256Base64))}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<style>${style}</style>
</head>
<body>
<main>
${sectionVerdict(result)}
${contents(sections)}
${sections.join('\n')}
<footer>Written by stepwitness from the marks named above; nothing in this page is fetched from elsewhere.</footer>
</main>
<script type="application/json" id="plot-data">${embeddedJson(plots)}</script>
<script>${plotlyScript}</script>
<script>${bootScript}</script>
</body>
</html>
`
}
