import type { Result } from '#core/report/result-schema'
import { dialPlot } from './dial-plot.ts'
import { errorPlot } from './error-plot.ts'
import { harmonicPlot } from './harmonic-plot.ts'
import { incrementPlot } from './increment-plot.ts'
import { modePlot } from './mode-plot.ts'
import { patternPlot } from './pattern-plot.ts'
import type { PlotSpec } from './plot-spec.ts'
import { railsPlot } from './rails-plot.ts'
import { reversalPlot } from './reversal-plot.ts'

/** Every interactive plot of a result, in the order of the report; those the trace is too short for are left out. */
export const plotSet = (result: Result): readonly PlotSpec[] =>
  [result.settings.rig === 'pointer' ? dialPlot(result) : null, railsPlot(result), errorPlot(result), incrementPlot(result), patternPlot(result), modePlot(result), harmonicPlot(result), reversalPlot(result)].filter((plot) => plot !== null)
