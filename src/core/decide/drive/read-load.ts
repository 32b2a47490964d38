import type { QuantityKind } from '#core/quantity/quantity-kind'
import { readAmount } from '#core/quantity/read-amount'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import type { TorqueData } from './dynamics-of.ts'
import type { Load } from './load.ts'
import { readPullOut } from './read-pull-out.ts'

type Amount = 'mass' | 'force' | 'tilt' | 'speed' | 'acceleration' | 'holding' | 'rotorInertia' | 'reversal'

const amounts: Readonly<Record<Amount, readonly [kind: QuantityKind, name: string]>> = {
  mass: ['mass', 'moving mass'],
  force: ['force', 'friction and other force'],
  tilt: ['angle', 'rise of the travel'],
  speed: ['speed', 'wanted speed'],
  acceleration: ['acceleration', 'wanted acceleration'],
  holding: ['torque', 'holding torque'],
  rotorInertia: ['inertia', 'rotor inertia'],
  reversal: ['length', 'most lost on reversing'],
}

/** What a person types about load and torque, each with its unit; anything may be left empty. */
export type LoadTexts = Readonly<Partial<Record<Amount | 'pullOut', string>>>

export interface ReadLoad {
  readonly load: Load
  readonly torque: TorqueData
  /** Most that may be lost on reversing, mm; null when nothing is asked. */
  readonly reversal: number | null
}

/** One line of what was typed, checked by itself: what is wrong with it, or null. */
export const wrongLoadText = (key: Amount | 'pullOut', text: string): Unmeasurable | null => {
  const read = key === 'pullOut' ? readPullOut(text, 'pull-out torque') : readAmount(text, ...amounts[key])
  return isUnmeasurable(read) ? read : null
}

/** Load of a carriage that moves in a line and the motor's torque data from text; what is left out is zero or not known. */
export const readLoad = (texts: LoadTexts): ReadLoad | Unmeasurable => {
  const read = (key: Amount): number | null | Unmeasurable => readAmount(texts[key], ...amounts[key])
  const pullOut = readPullOut(texts.pullOut ?? '', 'pull-out torque')
  const wrong = (Object.keys(amounts) as Amount[]).map(read).find(isUnmeasurable)
  if (wrong) return wrong
  if (isUnmeasurable(pullOut)) return pullOut
  const known = (key: Amount): number | null => read(key) as number | null
  return {
    load: { massKg: known('mass') ?? 0, force: known('force') ?? 0, tiltDeg: known('tilt') ?? 0, acceleration: known('acceleration') ?? 0, speed: known('speed') ?? 0 },
    torque: { holdingNm: known('holding'), rotorInertiaKgM2: known('rotorInertia'), pullOut },
    reversal: known('reversal'),
  }
}
