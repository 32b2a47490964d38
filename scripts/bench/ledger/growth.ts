import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import sharp from 'sharp'
import { type Cost, costOf } from './cost.ts'

/** One size and what it cost. */
export interface Grown extends Cost {
  readonly size: number
}

/** Costs by size and the exponent of CPU time over a process that does nothing: time ∝ size^exponent. */
export interface Growth {
  readonly unit: string
  readonly sizes: readonly Grown[]
  readonly exponent: number
  /** The same between the two largest sizes, where what does not grow weighs least. */
  readonly lastExponent: number
}

/**
 * Slope of log(CPU − start) over log(size), least squares; sizes whose cost hardly stands out of the start are left out.
 * NaN with fewer than two left.
 */
const exponentOf = (sizes: readonly Grown[], startS: number): number => {
  const points = sizes.flatMap(({ size, cpuS }) => (cpuS > 1.2 * startS ? [[Math.log(size), Math.log(cpuS - startS)] as const] : []))
  const mean = (axis: 0 | 1): number => points.reduce((sum, point) => sum + point[axis], 0) / points.length
  const [x, y] = [mean(0), mean(1)]
  return points.reduce((sum, point) => sum + (point[0] - x) * (point[1] - y), 0) / points.reduce((sum, point) => sum + (point[0] - x) ** 2, 0)
}

const grown = (unit: string, sizes: readonly Grown[], startS: number): Growth => ({ unit, sizes, exponent: exponentOf(sizes, startS), lastExponent: exponentOf(sizes.slice(-2), startS) })

/** Typed positions of a 200-step motor in sixteenths with a wave of detent and a fixed pattern of marking, numbered. Simulated. */
const traceText = (marks: number): string => {
  const rows = Array.from({ length: marks }, (_, k) => `${(0.1125 * k + 0.02 * Math.sin((Math.PI * k) / 8) + 0.005 * Math.sin(12.9898 * k)).toFixed(4)},${k}`)
  return `# motor: pump-1\n# steps-per-rev: 200\n# microsteps: 16\n# mark-uncertainty: 0.01 deg\nposition,command\n${rows.join('\n')}\n`
}

interface Place {
  readonly folder: string
  readonly program: string
  readonly startS: number
}

/** `measure --json` of ever longer typed traces. */
export const growthWithMarks = (counts: readonly number[], { folder, program, startS }: Place): Growth => {
  const sizes = counts.map((size) => {
    const file = join(folder, `marks-${size}.csv`)
    writeFileSync(file, traceText(size))
    return { size, ...costOf([program, 'measure', file, '--json'], folder, size > 5000 ? 1 : 2) }
  })
  return grown('marks', sizes, startS)
}

/** `detect --json` of one photo at ever more pixels. */
export const growthWithPixels = async (photo: string, megapixels: readonly number[], { folder, program, startS }: Place): Promise<Growth> => {
  const { width = 1, height = 1 } = await sharp(photo).metadata()
  const sizes: Grown[] = []
  for (const size of megapixels) {
    const file = join(folder, `pixels-${size}.jpg`)
    const scale = Math.sqrt((size * 1e6) / (width * height))
    await sharp(photo).resize(Math.round(width * scale), Math.round(height * scale), { fit: 'fill', kernel: 'cubic' }).jpeg({ quality: 90 }).toFile(file)
    sizes.push({ size, ...costOf([program, 'detect', file, '--json'], folder, 1) })
  }
  return grown('megapixels', sizes, startS)
}
