import type { QuantityKind } from './quantity-kind.ts'

const glyphs: readonly (readonly [RegExp, string])[] = [
  [/[·⋅×∙]/g, '*'],
  [/[µμ]/g, 'u'],
  [/[ΩΩ]/g, 'ohm'],
  [/²/g, '^2'],
  [/³/g, '^3'],
  [/°/g, 'deg'],
  [/[′']/g, 'arcmin'],
  [/[″"]/g, 'in'],
]

const fused = /^(mN|cN|kN|N|kgf?|gf?|ozf?|lbf?)[\s*.-]*(mm|cm|m|in|inch|ft)$/
const inertia = /^(kg|g|oz|lb)[\s*.-]*(mm|cm|m|in)(?:\^?2|\*\2)$/
const weights: Readonly<Record<string, string>> = { kg: 'kg*gee', g: 'g*gee', oz: 'oz*gee', lb: 'lb*gee' }

const asWeight = (unit: string): string => weights[unit.replace(/f$/, '')] ?? unit

const spellForce = (unit: string): string => (/^(kg|g|oz|lb)f?$/.test(unit) ? asWeight(unit) : unit)

const spellTorque = (unit: string): string => {
  const [, force = '', arm = ''] = fused.exec(unit) ?? []
  return force ? `${asWeight(force)}*${arm}` : unit
}

const spellInertia = (unit: string): string => {
  const [, mass = '', arm = ''] = inertia.exec(unit) ?? []
  return mass ? `${mass}*${arm}^2` : unit
}

const spellRate = (unit: string): string =>
  unit.replace(/^(?:(?:full|micro)?\s*steps?|pulses?)\s*\//, '1/').replace(/^pps$/, '1/s')

const spellTurning = (unit: string): string =>
  unit.replace(/^(?:rev|revs|turns?|r)\/min$/, 'rpm').replace(/^(?:rev|turns?)\/s$/, 'rotation/s')

/**
 * A unit as people write it, in the spelling of the units library: signs for ·, µ, Ω, ² replaced; `Ncm` taken apart;
 * in a torque or force, kg, g, oz and lb read as weights (standard gravity), since kg·cm on a motor's plate means kilogram-force.
 */
export const unitSpelling = (typed: string, kind: QuantityKind): string => {
  const unit = glyphs.reduce((text, [sign, word]) => text.replace(sign, word), typed.trim())
  if (kind === 'torque') return spellTorque(unit)
  if (kind === 'force') return spellForce(unit)
  if (kind === 'inertia') return spellInertia(unit)
  if (kind === 'step rate') return spellRate(unit)
  return kind === 'turning speed' ? spellTurning(unit) : unit
}
