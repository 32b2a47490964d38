import { spawnSync } from 'node:child_process'

/** What one whole process cost. */
export interface Cost {
  readonly cpuS: number
  readonly wallS: number
  readonly peakMiB: number
}

/** Runs in every measured process and says what it used when it ends. */
const meter = `data:text/javascript,process.on('exit',()=>{const{userCPUTime:u,systemCPUTime:s,maxRSS:m}=process.resourceUsage();process.stderr.write('\\nMETER '+(u+s)/1e6+' '+m/1024+'\\n')})`

const once = (args: readonly string[], cwd: string): Cost => {
  const started = performance.now()
  const { stderr, status } = spawnSync(process.execPath, ['--import', meter, ...args], { encoding: 'utf8', maxBuffer: 1 << 29, cwd })
  const wallS = (performance.now() - started) / 1000
  const [, cpuS, peakMiB] = /METER (\S+) (\S+)/.exec(stderr) ?? []
  if (cpuS === undefined || peakMiB === undefined || status !== 0) throw new Error(`${args.join(' ')}: ${stderr.slice(0, 500)}`)
  return { cpuS: Number(cpuS), wallS, peakMiB: Number(peakMiB) }
}

/** The least of some runs, each figure by itself: other work on the machine only adds. */
export const costOf = (args: readonly string[], cwd: string, runs: number): Cost => {
  const costs = Array.from({ length: runs }, () => once(args, cwd))
  const least = (key: keyof Cost): number => Math.min(...costs.map((cost) => cost[key]))
  return { cpuS: least('cpuS'), wallS: least('wallS'), peakMiB: least('peakMiB') }
}
