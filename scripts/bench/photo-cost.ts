// What a photo costs, whole process each: decoding alone, decoding plus loading OpenCV, and detect. npm run build first.
// node scripts/run.mjs scripts/bench/photo-cost.ts [PHOTO]   (default: a rendered 12-megapixel photo of a sheet of paper)
import { execFileSync, spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

const folder = join(tmpdir(), 'stepwitness-12mp')

const renderedPhoto = (): string => {
  const args = ['scripts/run.mjs', 'scripts/render/cli.ts', '--missing', '--out', folder, '--classes', 'plain', '--seeds', '3', '--size', '4032x3024']
  execFileSync(process.execPath, args, { stdio: ['ignore', 'ignore', 'inherit'] })
  const file = ['jpg', 'png', 'webp'].map((end) => join(folder, `plain-3.${end}`)).find((path) => existsSync(path))
  if (file === undefined) throw new Error(`no photo was rendered in ${folder}`)
  return file
}

/** Runs in every measured process and reports its CPU time and peak memory when it ends. */
const meter = `data:text/javascript,process.on('exit',()=>{const{user,system}=process.cpuUsage();process.stderr.write('\\nMETER '+(user+system)/1e6+' '+process.resourceUsage().maxRSS/1024+'\\n')})`

interface Cost {
  readonly name: string
  readonly seconds: number
  readonly mebibytes: number
}

/** The least of three runs: other work on the machine only adds. */
const costOf = (name: string, args: readonly string[]): Cost => {
  const runs = [0, 1, 2].map(() => {
    const { stderr } = spawnSync(process.execPath, ['--import', meter, ...args], { encoding: 'utf8', maxBuffer: 1 << 28 })
    const [, seconds, mebibytes] = /METER (\S+) (\S+)/.exec(stderr) ?? []
    if (seconds === undefined || mebibytes === undefined) throw new Error(`${name}: ${stderr}`)
    return { name, seconds: Number(seconds), mebibytes: Number(mebibytes) }
  })
  return runs.reduce((least, run) => (run.seconds < least.seconds ? run : least))
}

const inline = (code: string): readonly string[] => ['--input-type=module', '-e', code]

const main = (): void => {
  const photo = process.argv[2] ?? renderedPhoto()
  if (!existsSync('dist/main.js')) throw new Error('dist/main.js is missing: run npm run build first')
  const decode = `import sharp from 'sharp'; await sharp(${JSON.stringify(photo)}).toColourspace('srgb').raw().toBuffer();`
  const costs = [
    costOf('decode alone', inline(decode)),
    costOf('decode and load OpenCV', inline(`${decode} const { cv, cvTranslateError } = await import('opencv-wasm'); if (!cv.Mat) throw new Error(String(cvTranslateError))`)),
    costOf('detect --json', ['dist/main.js', 'detect', photo, '--json']),
  ]
  for (const { name, seconds, mebibytes } of costs) console.log(`${name.padEnd(24)} ${seconds.toFixed(2)} s CPU, ${mebibytes.toFixed(0)} MiB`)
}

main()
