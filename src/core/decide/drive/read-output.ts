import { readQuantity } from '#core/quantity/read-quantity'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { readThread } from './read-thread.ts'
import { beltPitches } from './standard-pitches.ts'

/** The geometry of an output, without its losses. */
export type OutputShape =
  | { readonly kind: 'drum'; readonly circumferenceMm: number }
  | { readonly kind: 'belt' | 'rack'; readonly teeth: number; readonly pitchMm: number }
  | { readonly kind: 'screw'; readonly pitchMm: number; readonly starts: number }
  | { readonly kind: 'rotary' }

type Read = { readonly output: OutputShape; readonly warning: string | null } | Unmeasurable

const sure = (output: OutputShape): Read => ({ output, warning: null })

const positive = (text: string, where: string): number | Unmeasurable => {
  const value = readQuantity(text, 'length', where)
  return isUnmeasurable(value) || value > 0
    ? value
    : unmeasurable(`"${text}" is not above zero`, where, 'give a length above zero')
}

const readDrum = (text: string, where: string): Read => {
  if (text === '') return unmeasurable('the drum has no size', where, 'write it like drum 13.3 mm, its diameter, or drum round 41.78 mm')
  const around = /^(?:round|around)\s+(.+)$/i.exec(text)
  const length = positive(around?.[1] ?? text, where)
  if (isUnmeasurable(length)) return length
  return sure({ kind: 'drum', circumferenceMm: around ? length : Math.PI * length })
}

const readToothed = (kind: 'belt' | 'rack', text: string, where: string): Read => {
  const [, count = '', rest = ''] = /^(\d+)\s*(?:[x×]|teeth|\s)\s*(.+)$/i.exec(text) ?? []
  const module = /^module\s+(.+)$/i.exec(rest)
  const known = kind === 'belt' ? beltPitches.get(rest.toUpperCase()) : undefined
  if (!(Number(count) >= 1))
    return unmeasurable(text === '' ? `the ${kind} has no size` : `"${text}" does not say how many teeth`, where, `write it like ${kind} 20 x 2 mm`)
  const length = known ?? positive(module?.[1] ?? rest, where)
  if (isUnmeasurable(length)) return length
  return sure({ kind, teeth: Number(count), pitchMm: module ? Math.PI * length : length })
}

const readScrew = (text: string, where: string): Read => {
  if (/^(?:M|Tr)\s*\d/i.test(text)) {
    const thread = readThread(text, where)
    return isUnmeasurable(thread)
      ? thread
      : { output: { kind: 'screw', pitchMm: thread.pitchMm, starts: thread.starts }, warning: thread.warning }
  }
  if (!/^[\d.,]/.test(text)) return unmeasurable(text === '' ? 'the screw has no size' : `"${text}" is no thread and no pitch of a screw`, where, 'write it like screw M4, screw Tr8x8(P2), screw 0.7 mm or screw 2 mm x 4')
  const [, pitch = '', starts = '1'] = /^(.+?)(?:\s*[x×]\s*(\d+)(?:\s*starts?)?)?$/i.exec(text) ?? []
  const pitchMm = positive(pitch, where)
  if (isUnmeasurable(pitchMm)) return pitchMm
  return Number(starts) >= 1
    ? sure({ kind: 'screw', pitchMm, starts: Number(starts) })
    : unmeasurable(`"${text}" has no starts`, where, 'give one start or more')
}

export const outputKinds = ['drum', 'belt', 'rack', 'screw', 'rotary'] as const

/**
 * The last stage in words: `drum 13.3 mm` (diameter), `drum round 41.78 mm` (circumference or line wound per turn),
 * `belt 20 x 2 mm` or `belt 20 GT2`, `rack 20 x 3.14 mm` or `rack 20 module 1 mm`, `screw 0.7 mm`, `screw 2 mm x 4` (pitch × starts),
 * `screw M8`, `screw Tr8x8(P2)`, `rotary`.
 */
export const readOutput = (kind: (typeof outputKinds)[number], text: string, where: string): Read => {
  switch (kind) {
    case 'drum':
      return readDrum(text, where)
    case 'belt':
    case 'rack':
      return readToothed(kind, text, where)
    case 'screw':
      return readScrew(text, where)
    case 'rotary':
      return sure({ kind: 'rotary' })
  }
}
