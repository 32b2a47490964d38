import { oneLine } from '#core/quantity/one-line'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { DriveTrain, Output, Reduction } from './drive-train.ts'
import { readLosses } from './read-losses.ts'
import { outputKinds, readOutput } from './read-output.ts'

const lossNames = /\s+(backlash|efficiency|inertia)\s+/
const reductionKinds = ['gear', 'pulleys', 'worm'] as const
const known = `${reductionKinds.join(', ')} (with tooth counts driven:driving), ${outputKinds.join(', ')}`

const readReduction = (
  kind: Reduction['kind'],
  text: string,
  where: string,
): Pick<Reduction, 'drivenTeeth' | 'drivingTeeth'> | Unmeasurable => {
  const [, driven = '', driving = ''] = /^(\d+(?:\.\d+)?)\s*:\s*(\d+(?:\.\d+)?)$/.exec(text) ?? []
  return Number(driven) > 0 && Number(driving) > 0
    ? { drivenTeeth: Number(driven), drivingTeeth: Number(driving) }
    : unmeasurable(`"${text}" does not give the ${kind} as tooth counts`, where, 'write driven:driving, such as 17:2')
}

interface Clause {
  readonly word: string
  readonly text: string
  readonly losses: readonly string[]
}

const clauseOf = (text: string): Clause => {
  const [head = '', ...losses] = text.trim().split(lossNames)
  const [, word = '', rest = ''] = /^([a-z]+)\s*(.*)$/i.exec(head.trim()) ?? []
  return { word: word.toLowerCase(), text: rest.trim(), losses }
}

type Stage =
  | { readonly reduction: Reduction }
  | { readonly output: Output; readonly warning: string | null }
  | Unmeasurable

const readStage = (clause: string, where: string): Stage => {
  const { word, text, losses } = clauseOf(clause)
  const reduction = reductionKinds.find((kind) => kind === word)
  const last = outputKinds.find((kind) => kind === word)
  if (!reduction && !last)
    return unmeasurable(`"${clause.trim()}" is not a stage that can be read`, where, `begin it with one of ${known}`)
  const lost = readLosses(losses, reduction || last === 'rotary' ? 'angle' : 'length', where)
  if (isUnmeasurable(lost)) return lost
  if (reduction) {
    const teeth = readReduction(reduction, text, where)
    return isUnmeasurable(teeth) ? teeth : { reduction: { kind: reduction, ...teeth, ...lost } }
  }
  const read = readOutput(last ?? 'rotary', text, where)
  return isUnmeasurable(read) ? read : { output: { ...read.output, ...lost }, warning: read.warning }
}

/**
 * A drive train in words, motor side first, stages parted by `>` or `;`: "gear 17:2 backlash 0.5 deg > drum round 41.78 mm".
 * Reductions give tooth counts as driven:driving, so 17:2 slows down 8.5 : 1; the last stage is an output (see readOutput).
 */
export const readTrain = (
  text: string,
  where: string,
): { readonly train: DriveTrain; readonly warnings: readonly string[] } | Unmeasurable => {
  const stages = text.split(/[;>]/).map((clause) => readStage(clause, where))
  const wrong = stages.find(isUnmeasurable)
  if (wrong) return wrong
  const last = stages.at(-1)
  const reductions = stages.slice(0, -1).flatMap((stage) => ('reduction' in stage ? [stage.reduction] : []))
  if (!last || !('output' in last) || reductions.length !== stages.length - 1)
    return unmeasurable(
      `"${text}" does not end in exactly one output`,
      where,
      `put one of ${outputKinds.join(', ')} last and nowhere else`,
    )
  return {
    train: { name: oneLine(text.replace(/\s*[;>]\s*/g, ' > ')), reductions, output: last.output },
    warnings: last.warning === null ? [] : [last.warning],
  }
}
