import { resolve } from 'node:path'

/** Every command on a fixed input, in an order in which each finds what the earlier ones wrote. */
export const jobs = (): readonly (readonly [name: string, args: readonly string[]])[] => {
  const typed = resolve('samples/flap-1-can-stack.csv')
  const hybrid = resolve('samples/pump-1-good-hybrid.csv')
  const photo = resolve('samples/flap-1-sheet.jpg')
  const motor = ['--steps-per-rev', '48', '--microsteps', '4']
  return [
    ['--help', ['--help']],
    ['plan', ['plan', ...motor, '--rig', 'pointer', '--length', '60mm', '--pen', '0.5mm']],
    ['sheet', ['sheet', ...motor, '--motor', 'flap-1', '--length', '60mm', '--out', 'sheet.pdf']],
    ['detect, 5 MP', ['detect', photo, '--json']],
    ['measure --json, 49 marks', ['measure', typed, '--json']],
    ['measure --json, 257 marks', ['measure', hybrid, '--json']],
    ['measure with evidence', ['measure', typed, '--out', 'typed']],
    ['measure a photo with evidence', ['measure', photo, '--out', 'photo']],
    ['travel', ['travel', '--result', 'typed', '--screw', 'M4']],
    ['compare', ['compare', 'typed', 'photo']],
    ['note --new', ['note', `flap-${process.pid}-${Math.round(performance.now())}.md`, '--new']],
    ['replay typed', ['replay', 'typed']],
    ['replay a photo', ['replay', 'photo']],
  ]
}
