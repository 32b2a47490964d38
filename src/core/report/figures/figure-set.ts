import type { Result } from '#core/report/result-schema'
import type { Figure } from './chart.ts'
import { errorFigure } from './error-figure.ts'
import { harmonicFigure } from './harmonic-figure.ts'
import { incrementFigure } from './increment-figure.ts'
import { modeFigure } from './mode-figure.ts'
import { patternFigure } from './pattern-figure.ts'
import { reversalFigure } from './reversal-figure.ts'
import { traceFigure } from './trace-figure.ts'

/** Every static figure of a result, in the order of the report; those the trace is too short for are left out. */
export const figureSet = (result: Result): readonly Figure[] =>
  [traceFigure(result), errorFigure(result), incrementFigure(result), patternFigure(result), modeFigure(result), harmonicFigure(result), reversalFigure(result)].filter((figure) => figure !== null)
