import { drawnPages, type SheetOrder } from '#core/prepare/sheet/drawn-pages'
import type { Run } from './choose-run.ts'
import type { Mm } from './ink-sheet.ts'
import { type Print, printShapes } from './print.ts'
import type { Random } from './random.ts'

/** A one-page printed sheet for a pointer. */
export interface OrderedSheet {
  readonly paper: 'a4' | 'letter'
  readonly sizeMm: Mm
  /** Where the shaft's cross is printed, mm from the sheet's upper left corner. */
  readonly shaftMm: Mm
  readonly lengthMm: number
}

const pageOf = (order: SheetOrder): { readonly shapes: ReturnType<typeof drawnPages>[number]['shapes']; readonly sizeMm: Mm; readonly shaftMm: Mm } => {
  const [first] = drawnPages(order)
  if (first === undefined) throw new RangeError('the printed sheet has no page')
  const { left, right, top, bottom } = first.page.sheet
  return { shapes: first.shapes, sizeMm: [right - left, bottom - top], shaftMm: [-left, -top] }
}

const orderFor = (paper: 'a4' | 'letter', lengthMm: number, motor: { readonly stepsPerRev: number; readonly microsteps: number } | null, name: string): SheetOrder => ({
  rig: 'pointer',
  paper,
  lengthMm,
  shaftHoleMm: 8,
  motor: name,
  stepsPerRev: motor?.stepsPerRev ?? null,
  microsteps: motor?.microsteps ?? null,
})

/** The A4 sheet for a pointer of this length, with its shaft place. */
export const sheetFor = (lengthMm: number): OrderedSheet => {
  const { sizeMm, shaftMm } = pageOf(orderFor('a4', lengthMm, null, ''))
  return { paper: 'a4', sizeMm, shaftMm, lengthMm }
}

/** Chooses paper and pointer length so that the whole ring fits on one page. */
export const orderSheet = (random: Random): OrderedSheet => {
  const paper = random.chance(0.3) ? 'letter' : 'a4'
  const lengthMm = random.whole(60, 84)
  const { sizeMm, shaftMm } = pageOf(orderFor(paper, lengthMm, null, ''))
  return { paper, sizeMm, shaftMm, lengthMm }
}

/** The sheet as printed for the motor that is tested. */
export const printSheet = ({ paper, lengthMm }: OrderedSheet, run: Pick<Run, 'stepsPerRev' | 'microsteps'>, name = 'rail motor'): Print => {
  const { shapes, sizeMm, shaftMm } = pageOf(orderFor(paper, lengthMm, run, name))
  return printShapes(shapes, sizeMm, shaftMm)
}
