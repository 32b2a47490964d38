import { spawn } from 'node:child_process'

/** Runs a Node program and kills it without warning `ms` after its start; true when it had ended by itself before. */
export const killAfter = (args: readonly string[], ms: number): Promise<boolean> =>
  new Promise((resolve) => {
    const child = spawn(process.execPath, args, { stdio: 'ignore' })
    const timer = setTimeout(() => child.kill('SIGKILL'), ms)
    child.on('close', (_, signal) => {
      clearTimeout(timer)
      resolve(signal === null)
    })
  })

/** How long a whole run takes, ms. */
export const runTime = async (args: readonly string[]): Promise<number> => {
  const started = performance.now()
  await killAfter(args, 60_000)
  return performance.now() - started
}
