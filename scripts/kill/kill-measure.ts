import { join } from 'node:path'
import { readEvidence } from '#adapters/files/read-evidence'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { anyMoment, killAfter, runTime } from './kill-after.ts'
import type { KillCount } from './kill-note.ts'

const nameIn = async (evidence: string): Promise<string> => {
  const kept = await readEvidence(evidence)
  if (isUnmeasurable(kept)) return `damaged: ${kept.what}`
  return kept.findings.length === 0 ? kept.result.motor.name : `damaged: ${JSON.stringify(kept.findings)}`
}

/** Kills `measure` at random moments of its run, each run under another motor name, so that old and new evidence can be told apart. */
export const killMeasure = async (program: readonly string[], { folder, trace, moments, random }: { readonly folder: string; readonly trace: string; readonly moments: number; readonly random: () => number }): Promise<KillCount> => {
  const evidence = join(folder, 'killed')
  const words = (motor: string) => [...program, 'measure', trace, '--motor', motor, '--out', evidence]
  const whole = await runTime(words('first'))
  let [old, fresh, before] = [0, 0, 'first']
  const neither: string[] = []
  for (let i = 0; i < moments; i++) {
    await killAfter(words(`run ${i}`), anyMoment(i, { whole, folder, random }))
    const now = await nameIn(evidence)
    if (now === before) old++
    else if (now === `run ${i}`) fresh++
    else neither.push(`moment ${i}: ${now}`)
    before = now
  }
  return { moments, old, fresh, neither }
}
