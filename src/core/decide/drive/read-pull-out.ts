import { readAmount } from '#core/quantity/read-amount'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { PullOutPoint } from './pull-out.ts'

const readPoint = (text: string, where: string): PullOutPoint | Unmeasurable => {
  const [rate, torque] = text.split(':')
  const stepRate = readAmount(rate, 'step rate', where)
  const torqueNm = readAmount(torque, 'torque', where)
  if (isUnmeasurable(stepRate)) return stepRate
  if (isUnmeasurable(torqueNm)) return torqueNm
  return stepRate === null || torqueNm === null
    ? unmeasurable(`"${text.trim()}" is no pair of rate and torque`, where, 'write rate:torque pairs such as 200:20 N·cm, 800:8 N·cm')
    : { stepRate, torqueNm }
}

/**
 * Points of a pull-out curve in words: "200:20 N·cm, 800:8 N·cm" (full steps per second : torque), parted by a comma and a
 * space or by a semicolon, so that a decimal comma stays one. No points in empty text.
 */
export const readPullOut = (text: string, where: string): readonly PullOutPoint[] | Unmeasurable => {
  const points = text.split(/[,;]\s+|;/).filter((point) => point.trim() !== '').map((point) => readPoint(point, where))
  return points.find(isUnmeasurable) ?? points.filter((point): point is PullOutPoint => !isUnmeasurable(point))
}
