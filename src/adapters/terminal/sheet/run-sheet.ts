import type { Command } from 'commander'
import writeFileAtomic from 'write-file-atomic'
import { systemReason } from '#adapters/files/system-reason'
import { wideFont } from '#adapters/files/wide-font'
import { wholeOption, wrongUsage } from '#adapters/terminal/motor-options'
import { quantityOption } from '#adapters/terminal/quantity-option'
import type { Shown } from '#adapters/terminal/outcome'
import type { SheetOptions } from '#adapters/terminal/sheet-command'
import { fitName } from '#core/detect/sheet/payload'
import { printedSheet } from '#core/prepare/sheet/draw-sheet'
import { drawnPages, type SheetOrder } from '#core/prepare/sheet/drawn-pages'
import { notPrintedText } from '#core/prepare/sheet/page-words'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'

const defaultLength = { pointer: 80, mirror: 2000 } as const

const choice = <T extends string>(command: Command, name: string, text: string, choices: readonly T[]): T => {
  const chosen = choices.find((one) => one === text.toLowerCase())
  return chosen ?? wrongUsage(command, `${name} must be ${choices.join(' or ')}, not "${text}"`)
}

/** What a ruler may say of the 100 mm bar; beyond that it was another bar, or another unit. */
const barOf = (command: Command, mm: number | null): number | undefined =>
  mm === null || (mm >= 50 && mm <= 200) ? (mm ?? undefined) : wrongUsage(command, `--measured-bar must be 50 to 200 mm, what a ruler says of the 100 mm bar, not ${mm} mm`)

const orderOf = (command: Command, options: SheetOptions): SheetOrder => {
  const rig = choice(command, '--rig', options.rig, ['pointer', 'mirror'])
  const length = (name: string, text: string | undefined) => quantityOption(command, [name, text], 'length')
  const whole = (name: string, text: string | undefined) => (text === undefined ? null : wholeOption(command, [name, text]))
  const [stripMm, shaftHoleMm] = [length('--strip', options.strip), length('--shaft', options.shaft)]
  const barMm = barOf(command, length('--measured-bar', options.measuredBar))
  return {
    rig,
    paper: choice(command, '--paper', options.paper, ['a4', 'letter']),
    lengthMm: length('--length', options.length) ?? defaultLength[rig],
    motor: options.motor ?? '',
    stepsPerRev: whole('--steps-per-rev', options.stepsPerRev),
    microsteps: whole('--microsteps', options.microsteps),
    ...(stripMm === null ? {} : { stripMm }),
    ...(shaftHoleMm === null ? {} : { shaftHoleMm }),
    ...(barMm === undefined ? {} : { barMm }),
  }
}

/** Draws the sheet and writes it whole or not at all. */
export const runSheet = async (command: Command, options: SheetOptions): Promise<Shown | Unmeasurable> => {
  const order = orderOf(command, options)
  try {
    const pages = drawnPages(order)
    const { pdf, notPrinted } = await printedSheet(order, await wideFont())
    await writeFileAtomic(options.out, Buffer.from(pdf))
    return shownSheet(order, options.out, { pages: pages.length, notPrinted })
  } catch (error) {
    if (error instanceof RangeError) return wrongUsage(command, error.message)
    if (error instanceof Error && 'code' in error) {
      return unmeasurable(`the PDF cannot be written (${systemReason(error)})`, options.out, 'name a folder that exists and may be written to')
    }
    throw error
  }
}

const shownSheet = (order: SheetOrder, file: string, { pages, notPrinted }: { readonly pages: number; readonly notPrinted: string }): Shown => {
  const motor = fitName(order.motor)
  const cut = motor === order.motor.trim() ? [] : [`The code holds the name as "${motor}".`]
  const text = [
    `${file}: ${pages} ${pages === 1 ? 'page' : 'pages'} ${order.paper === 'a4' ? 'A4' : 'Letter'}, ${order.rig} ${order.lengthMm} mm.`,
    'Print at 100 %, then lay a ruler on the 100 mm bar; if it differs, print again or draw the sheet anew with --measured-bar.',
    ...cut,
    ...(notPrinted === '' ? [] : [notPrintedText(notPrinted)]),
  ].join('\n')
  return { json: { file, pages, ...order, motor, notPrinted, barMm: order.barMm ?? 100 }, text }
}
