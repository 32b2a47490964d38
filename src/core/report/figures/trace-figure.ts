import { missingCommands } from '#core/report/missing-positions'
import { palette } from '#core/report/palette'
import type { Result } from '#core/report/result-schema'
import { worstStretch } from '#core/report/worst-stretch'
import { chartWidth, type Figure } from './chart.ts'
import { dial } from './dial.ts'
import { type LegendEntry, legend, lineEntry, markerEntry } from './marker.ts'
import { rails } from './rails.ts'
import { svgDocument, words } from './svg.ts'

const entriesOf = ({ figures }: Result): LegendEntry[] => [
  lineEntry('rest', palette.moved),
  lineEntry('nominal', palette.nominal),
  ...(figures.merged ? [markerEntry('merged', `merged: ${figures.merged}`)] : []),
  ...(figures.reversed ? [markerEntry('reversed', `reversed: ${figures.reversed}`)] : []),
  ...(figures.missing ? [markerEntry('missing', `missing position: ${figures.missing}`)] : []),
]

const head = (result: Result, title: string): string => words(title, 20, 28, { size: 16, bold: true }) + legend(entriesOf(result), 20, 54)

const onDial = (result: Result, title: string): string => {
  const range = worstStretch(result)
  const missing = missingCommands(result)
  const left = dial(result, { x: 226, y: 310, radius: 172 }, { range, missing })
  const caption = words(`larger (bold arc): commands ${range.from} to ${range.to}`, 500, 112, { size: 12 })
  const thin = words('marks closer than 0.25° and flags closer than 2° are drawn once', 20, 530, { size: 11, fill: palette.quiet })
  return head(result, title) + left + thin + caption + rails(result, { range, missing, area: { left: 510, right: chartWidth - 20, top: 124, bottom: 456 } })
}

const alongLine = (result: Result, title: string): string => {
  const whole = { from: 0, to: result.rests.length - 1 }
  const range = worstStretch(result)
  const missing = missingCommands(result)
  const top = rails(result, { range: whole, missing, area: { left: 84, right: chartWidth - 30, top: 84, bottom: 244 } })
  const caption = words(`larger, around the largest error: commands ${range.from} to ${range.to}`, 84, 320, { size: 12 })
  return head(result, title) + top + (whole.to > range.to - range.from ? caption + rails(result, { range, missing, area: { left: 84, right: chartWidth - 30, top: 330, bottom: 490 } }) : '')
}

/** The trace as it stands on its dial (pointer) or along its line (arc, chord, mirror), with its worst stretch drawn larger. */
export const traceFigure = (result: Result): Figure => {
  const round = result.settings.rig === 'pointer'
  const title = round ? 'The trace on its dial' : 'The trace along its line'
  return { name: 'trace', title, svg: svgDocument({ width: chartWidth, height: 540, title }, round ? onDial(result, title) : alongLine(result, title)) }
}
