import { oneLine } from '#core/quantity/one-line'
import { isAngleUnit } from '#core/quantity/position-unit'
import { isUnmeasurable, lacking, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { checkMarks, withoutTwins } from './check-marks.ts'
import { numberPasses } from './number-passes.ts'
import { readMarks } from './read-marks.ts'
import { readSetUp, type SetUp, setUpKeys, withPart } from './set-up.ts'
import { type Table, takeApart } from './table.ts'
import type { Motor, Rig, Trace } from './trace.ts'

/** The set-up lines of a file, later ones winning; a note is for people; unknown keys become warnings. */
const headOf = ({ head }: Table): { setUp: SetUp; unread: string[]; warnings: string[] } | Unmeasurable => {
  let setUp: SetUp = {}
  const unread: string[] = []
  const warnings: string[] = []
  for (const { line, key, value } of head) {
    if (key === 'note') continue
    const part = readSetUp(key, value, `line ${line}`)
    if (isUnmeasurable(part)) return part
    if (part) setUp = withPart(setUp, part)
    else {
      unread.push(`"${key}" on line ${line}`)
      warnings.push(`Line ${line}: "${key}" is not a set-up key this tool reads (${setUpKeys.join(', ')}); it was left out.`)
    }
  }
  return { setUp, unread, warnings }
}

/** S and N, or the sentence that asks for them. */
export const motorOf = ({ motor, stepsPerRev, microsteps }: SetUp): Motor | Unmeasurable => {
  const missing = [...(stepsPerRev === undefined ? ['steps-per-rev'] : []), ...(microsteps === undefined ? ['microsteps'] : [])]
  if (stepsPerRev === undefined || microsteps === undefined)
    return lacking(`it does not say ${missing.join(' and ')}`, Object.fromEntries(missing.map((key) => [key, '…'])))
  return { name: oneLine(motor ?? '') || 'unnamed motor', stepsPerRev, microsteps }
}

const missingLength = (rig: string, key: string): Unmeasurable => lacking(`rig ${rig} needs a ${key}`, { [key]: '… mm' })

/** The rig with the lengths it needs; a length unit without a rig is asked about, never guessed. */
const rigOf = (setUp: SetUp): Rig | Unmeasurable => {
  const kind = setUp.rig ?? 'pointer'
  const unit = setUp.unit ?? (kind === 'pointer' ? 'deg' : 'mm')
  if ((kind === 'pointer') !== isAngleUnit(unit))
    return unmeasurable(`rig ${kind} cannot have positions in ${unit}`, 'the set-up', kind === 'pointer' ? 'say "# rig: arc" with a radius (or chord, mirror), or give angles' : 'give the positions in mm or in')
  if (kind === 'pointer') return { kind, radiusMm: setUp.radiusMm ?? null }
  if (kind === 'mirror') {
    if (!setUp.distanceMm) return missingLength(kind, 'distance')
    return { kind, distanceMm: setUp.distanceMm, footMm: setUp.footMm ?? null, ratio: setUp.ratio ?? 2 }
  }
  return setUp.radiusMm ? { kind, radiusMm: setUp.radiusMm } : missingLength(kind, 'radius')
}

/** Millimetres at the tip of a pointer are no angle until its radius is known: left out, the marks would pass for better placed than stated. */
const withoutRadius = (rig: Rig, { markUncertainty, lineWidth, parallax, hand }: SetUp): Unmeasurable | null => {
  const stated = { 'mark-uncertainty': markUncertainty, 'line-width': lineWidth, parallax, hand }
  const [key, size] = Object.entries(stated).find(([, each]) => each && each.value > 0 && !isAngleUnit(each.unit)) ?? []
  if (rig.kind !== 'pointer' || rig.radiusMm !== null || !size) return null
  return lacking(`${key} of ${size.value} ${size.unit} is no angle without the radius at the marks`, { radius: '… mm' }, 'give it in deg')
}

/** Marks and set-up, whatever their source, → a trace that has been checked. */
export const traceFrom = (
  source: Pick<Trace, 'marks' | 'lastDigit' | 'common' | 'ordered' | 'warnings'>,
  setUp: SetUp,
): Trace | Unmeasurable => {
  const motor = motorOf(setUp)
  if (isUnmeasurable(motor)) return motor
  const rig = rigOf(setUp)
  if (isUnmeasurable(rig)) return rig
  const unclear = withoutRadius(rig, setUp)
  if (unclear) return unclear
  const markParts = [setUp.lineWidth, setUp.parallax, setUp.hand].flatMap((part) => part ?? [])
  const trace: Trace = {
    kind: 'trace',
    motor,
    rig,
    unit: setUp.unit ?? (rig.kind === 'pointer' ? 'deg' : 'mm'),
    gears: setUp.gears ?? [],
    markUncertainty: setUp.markUncertainty ?? null,
    commands: setUp.commands ?? null,
    fullStepCommand: setUp.fullStepCommand ?? null,
    ...(markParts.length > 0 ? { markParts } : {}),
    ...source,
    common: [...source.common, ...(setUp.shared ?? [])],
  }
  return checkMarks(trace) ?? trace
}

/**
 * Text of a trace file → trace.
 * @param options set-up given beside the file (command line, page); it wins over the file's own
 * @returns Unmeasurable with the line and the cure for the first thing that cannot be read
 */
export const readTrace = (text: string, options: SetUp = {}): Trace | Unmeasurable => {
  if (text.trim() === '') return unmeasurable('it is empty', 'the trace', 'give one mark position per line')
  const table = takeApart(text)
  const head = headOf(table)
  if (isUnmeasurable(head)) return head
  const read = readMarks(table)
  if (isUnmeasurable(read)) return read
  const { marks, warnings: twins } = withoutTwins(numberPasses(read.marks))
  const warnings = [...head.warnings, ...read.warnings, ...twins]
  const setUp = { ...head.setUp, ...options }
  const trace = traceFrom({ marks, lastDigit: read.lastDigit, common: [], ordered: setUp.order !== 'none', warnings }, setUp)
  const lacks = isUnmeasurable(trace) && trace.setUpKeys !== undefined && head.unread.length > 0
  return lacks ? { ...trace, what: `${trace.what} (${head.unread.join(', ')} ${head.unread.length === 1 ? 'is' : 'are'} not read)` } : trace
}
