import type { Figure } from '#core/report/figures/chart'
import type { PlotSpec } from '#core/report/plots/plot-spec'
import { escapeHtml } from './escape.ts'
import { section } from './parts.ts'

/** Which static figure stands in for an interactive plot where scripts do not run or the page is printed. */
const standIn: Readonly<Record<string, string>> = { dial: 'trace', 'position-error': 'position-error', increments: 'increments', 'repeat-pattern': 'repeat-pattern', modes: 'modes', harmonics: 'harmonics', reversal: 'reversal' }

const captions: Readonly<Record<string, string>> = {
  dial: 'Nominal positions inside the ring, rests outside it, counter-clockwise from the start mark. Drag to zoom, double-click to see all again.',
  rails: 'Each thread leads from where a command should stand (below) to where it rests (above): merged commands run together, a jump leaves a gap. Opens on the largest error; double-click for the whole trace.',
  'position-error': 'How far each rest stands from its nominal position, the mean taken off, with ± U.',
  increments: 'What each command moved. Dots moved, open squares are merged, solid triangles moved backwards; crosses are nominal positions no rest came near.',
  'repeat-pattern': 'The position errors of all electrical cycles laid over one another.',
  modes: 'The worst increment of every step mode with its uncertainty, against the limits.',
  harmonics: 'Waves found in the position error, with two standard errors.',
  reversal: 'Where the outward run rests, minus where the return rests, command by command.',
}

const shown = (plot: PlotSpec, figures: readonly Figure[], lineRig: boolean): string => {
  const name = plot.id === 'rails' && lineRig ? 'trace' : standIn[plot.id]
  const figure = figures.find((each) => each.name === name)
  const still = figure ? `<div class="still">${figure.svg}</div>` : ''
  return `<figure class="plot${figure ? '' : ' live-only'}" id="figure-${plot.id}"><h3>${escapeHtml(plot.title)}</h3><div class="live" data-plot="${plot.id}" style="min-height:${Number(plot.layout['height'])}px" role="group" aria-label="${escapeHtml(plot.title)}: ${escapeHtml(captions[plot.id] ?? '')}"></div>${still}<figcaption>${escapeHtml(captions[plot.id] ?? '')}</figcaption></figure>`
}

/** Every plot: live where scripts run, a still picture on paper and without them. */
export const sectionPlots = (plots: readonly PlotSpec[], figures: readonly Figure[]): string => {
  const lineRig = plots.every(({ id }) => id !== 'dial')
  return section('plots', 'Plots', plots.map((plot) => shown(plot, figures, lineRig)).join(''))
}
