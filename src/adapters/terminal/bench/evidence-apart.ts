import { spawn } from 'node:child_process'
import { join } from 'node:path'
import { evidenceOrder } from '#adapters/page/server/evidence-order'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'

/** Measures a saved test and writes its evidence; what a process apart does. */
export const evidenceOf = async (project: string, id: string): Promise<null | Unmeasurable> => {
  const order = await evidenceOrder(project, id)
  if (isUnmeasurable(order)) return order
  const { writeEvidence } = await import('#adapters/terminal/measure/evidence')
  return writeEvidence(join(project, 'evidence', id), order)
}

const answered = (out: string): null | Unmeasurable => {
  try {
    return JSON.parse(out) as null | Unmeasurable
  } catch {
    return unmeasurable('the evidence could not be written', 'the evidence', 'the terminal says why')
  }
}

/**
 * The same in a process apart: the page stays quick meanwhile, and stopping really stops.
 * @param program the built command
 */
export const evidenceApart =
  (program: string, project: string, log: (line: string) => void) =>
  (id: string, stop: AbortSignal): Promise<null | Unmeasurable> =>
    new Promise((resolve) => {
      const child = spawn(process.execPath, [program, 'bench', '--project', project, '--evidence-of', id], { signal: stop, stdio: ['ignore', 'pipe', 'pipe'] })
      let out = ''
      child.stdout.setEncoding('utf8').on('data', (text: string) => { out += text })
      child.stderr.setEncoding('utf8').on('data', (text: string) => log(text.trimEnd()))
      child.on('error', () => resolve(unmeasurable('the writing was stopped', 'the evidence', 'start it again when you like')))
      child.on('close', () => resolve(answered(out)))
    })
