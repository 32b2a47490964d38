import { spawn } from 'node:child_process'
import type { Detection, Hints } from '#core/detect/detection'
import { type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'

const optionsOf = (hints: Hints): readonly string[] => [
  ...(hints.rig ? ['--rig', hints.rig] : []),
  ...(hints.paperMm ? ['--paper', hints.paperMm.join('x')] : []),
  ...(hints.centrePx ? ['--centre', hints.centrePx.join(',')] : []),
  ...(hints.cornersPx ? ['--corners', hints.cornersPx.flat().join(',')] : []),
  ...(hints.expectedMarks ? ['--marks', String(hints.expectedMarks)] : []),
  ...(hints.radiusRangePx ? ['--radius-range', hints.radiusRangePx.join(',')] : []),
  ...(hints.ink ? ['--ink', hints.ink] : []),
  ...(hints.scalePx ? ['--scale', [...hints.scalePx.from, ...hints.scalePx.to, hints.scalePx.mm].join(',')] : []),
  ...(hints.tickMm === undefined ? [] : ['--tick', String(hints.tickMm)]),
  ...(hints.ignorePx ?? []).flatMap(({ x, y, width, height }) => ['--ignore', [x, y, width, height].join(',')]),
]

/** The command's sentence "file: what; remedy." taken apart again. */
const failed = (said: string): Unmeasurable => {
  const sentence = said.trim().split('\n').at(-1)?.replace(/^[^:]*:\s*/, '').replace(/\.$/, '') ?? ''
  const [what, ...remedy] = sentence.split('; ')
  return unmeasurable(what || 'the marks could not be found', 'the photo', remedy.join('; ') || 'take a sharper photo with all marks in view')
}

/**
 * Finds marks in a process of its own, the same one the command line uses: the page stays quick, and stopping really stops.
 * @param program the built command
 */
export const detectApart =
  (program: string) =>
  (photo: string, hints: Hints, stop: AbortSignal): Promise<Detection | Unmeasurable> =>
    new Promise((resolve) => {
      const child = spawn(process.execPath, [program, 'detect', photo, '--json', ...optionsOf(hints)], { signal: stop, stdio: ['ignore', 'pipe', 'pipe'] })
      let out = ''
      let said = ''
      child.stdout.setEncoding('utf8').on('data', (text: string) => { out += text })
      child.stderr.setEncoding('utf8').on('data', (text: string) => { said += text })
      child.on('error', () => resolve(unmeasurable('the search was stopped', 'the photo', 'start it again when you like')))
      child.on('close', (code) => resolve(code === 0 ? (JSON.parse(out) as { detection: Detection }).detection : failed(said)))
    })
