import { palette } from '#core/report/palette'
import type { RestKind } from '#core/report/rest-kind'

/** The shapes of the static figures in plotly's names. */
export const markerLook = (kind: RestKind | 'missing', size = 1): Readonly<Record<string, unknown>> =>
  ({
    moved: { symbol: 'circle', color: palette.moved, size: 6 * size },
    merged: { symbol: 'square-open', color: palette.merged, size: 9 * size, line: { width: 1.5 } },
    reversed: { symbol: 'triangle-down', color: palette.reversed, size: 11 * size },
    missing: { symbol: 'x-thin', color: palette.missing, size: 8 * size, line: { width: 1.5, color: palette.missing } },
    unjudged: { symbol: 'circle-open', color: palette.nominal, size: 6 * size },
  })[kind]

export const kindNames: Readonly<Record<RestKind | 'missing', string>> = { moved: 'moved', merged: 'merged', reversed: 'reversed', missing: 'missing position', unjudged: 'not judged' }
