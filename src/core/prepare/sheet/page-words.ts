import type { SheetPage } from './layout.ts'
import type { SheetPayload } from '#core/detect/sheet/payload'
import type { PagePlace } from '#core/detect/sheet/page-number'
import type { Shape } from './shape.ts'

const cautions = {
  pointer:
    'Print at 100 %, not fitted to the page. Clamp the motor before power; keep fingers out of the pointer’s sweep; ' +
    'never unplug a coil with the driver on; a motor at rest gets hot.',
  mirror:
    'Print at 100 %, not fitted to the page. Light of class 1 or 2 only; never look into the beam or its reflections; ' +
    'never unplug a coil with the driver on; a motor at rest gets hot.',
} as const

const joining = 'Cut along the dashes and butt the pages so that the crosses meet; tape from behind.'

/** Set-up in one line, with what is unknown left as a gap to be filled by hand. */
export const setupLine = ({ motor, stepsPerRev, microsteps, rig, lengthMm, barMm }: SheetPayload): string =>
  [
    `Motor: ${motor || '________'}`,
    `steps/rev: ${stepsPerRev ?? '____'}`,
    `microsteps: ${microsteps ?? '____'}`,
    `${rig === 'pointer' ? 'pointer' : 'wall distance'}: ${lengthMm} mm`,
    ...(barMm === 100 ? [] : [`bar measured: ${barMm} mm`]),
  ].join('   ')

const side = (steps: number, before: string, after: string): readonly string[] =>
  steps === 0 ? [] : [`${Math.abs(steps)} ${steps < 0 ? before : after}`]

/** Where a page of a joined sheet belongs, for the person with the tape. */
const whereabouts = ({ rig, column, row }: PagePlace): string => {
  if (rig === 'mirror') return `${column + 1} from the left`
  return [...side(row, 'above', 'below'), ...side(column, 'left', 'right')].join(', ') || 'the shaft’s page'
}

const textSize = 2.5
const edgeMm = 7

/** Lines in the page's trim: the set-up and page above, cautions below. */
export const pageWords = ({ sheet, place }: SheetPage, payload: SheetPayload): readonly Shape[] => {
  const middle = (sheet.left + sheet.right) / 2
  const many = payload.pages > 1
  const page = many ? `   page ${payload.page + 1} of ${payload.pages} (${whereabouts(place)})` : ''
  const line = (y: number, text: string, size = textSize): Shape => ({
    kind: 'text',
    role: 'text',
    at: [middle, y],
    size,
    anchor: 'middle',
    text,
    tone: 0,
  })
  return [
    line(sheet.top + edgeMm + 1.8, `${setupLine(payload)}${page}`),
    ...(many ? [line(sheet.bottom - edgeMm - 0.9, joining, 2.2)] : []),
    line(sheet.bottom - edgeMm + (many ? 1.4 : 0), cautions[payload.rig], 2.2),
  ]
}

/** What is said where a name's letters could not be printed. */
export const notPrintedText = (letters: string): string => `No font here has ${letters}: the name has a gap there, to be filled in by hand; the code on the sheet holds it.`
