import { spawn } from 'node:child_process'
import { watch } from 'node:fs'

/** When to kill: so long after the start, or after something in a folder changes or is said for the first time. */
export interface Moment {
  readonly ms: number
  readonly afterChangeIn?: string
  /** Told each piece of what the program says on stderr. */
  readonly afterWords?: (chunk: string) => void
}

/** Runs a Node program and kills it without warning; true when it had ended by itself before. */
export const killAfter = (args: readonly string[], { ms, afterChangeIn, afterWords }: Moment): Promise<boolean> =>
  new Promise((resolve) => {
    let timer: NodeJS.Timeout | undefined
    const arm = (): void => {
      timer ??= setTimeout(() => child.kill('SIGKILL'), ms)
    }
    const watcher = afterChangeIn === undefined ? null : watch(afterChangeIn, arm)
    const child = spawn(process.execPath, args, { stdio: ['ignore', 'ignore', 'pipe'] })
    child.stderr.setEncoding('utf8').on('data', (chunk: string) => {
      if (afterWords === undefined) return
      arm()
      afterWords(chunk)
    })
    if (watcher === null && afterWords === undefined) arm()
    child.on('close', (_, signal) => {
      clearTimeout(timer)
      watcher?.close()
      resolve(signal === null)
    })
  })

/** How long a whole run takes, ms. */
export const runTime = async (args: readonly string[]): Promise<number> => {
  const started = performance.now()
  await killAfter(args, { ms: 60_000 })
  return performance.now() - started
}

/** Half of the moments anywhere in a run and a little beyond, half while files are written. */
export const anyMoment = (i: number, { whole, folder, random }: { readonly whole: number; readonly folder: string; readonly random: () => number }): Moment =>
  i % 2 === 0 ? { ms: 1.4 * whole * random() } : { ms: 0.4 * whole * random(), afterChangeIn: folder }
