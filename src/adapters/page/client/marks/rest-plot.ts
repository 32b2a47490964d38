import { kindOf } from '#core/report/rest-kind'
import type { Result } from '#core/report/result-schema'
import { colour } from '#adapters/page/client/app/theme'
import type { Size } from './view.ts'

/** What both small plots draw from. */
export interface RestData {
  readonly result: Result
  readonly markOfRest: readonly number[]
}

type Pen = CanvasRenderingContext2D

export const sharp = (canvas: HTMLCanvasElement): { readonly pen: Pen; readonly size: Size } | null => {
  const dense = Math.min(2, devicePixelRatio || 1)
  const { clientWidth: width, clientHeight: height } = canvas
  const [w, h] = [Math.round(width * dense), Math.round(height * dense)]
  if (canvas.width !== w || canvas.height !== h) [canvas.width, canvas.height] = [w, h]
  const pen = canvas.getContext('2d')
  if (!pen || width === 0) return null
  pen.setTransform(dense, 0, 0, dense, 0, 0)
  pen.clearRect(0, 0, width, height)
  pen.font = '13px system-ui, sans-serif'
  return { pen, size: { width, height } }
}

const room = { left: 34, right: 10, top: 26, bottom: 36 }

const incrementTop = ({ rests }: Pick<Result, 'rests'>): number => 1.08 * rests.slice(1).reduce((most, { incrementMicrosteps }) => Math.max(most, incrementMicrosteps ?? 0), 2)

export interface IncrementScale {
  readonly x: (command: number) => number
  readonly y: (microsteps: number) => number
  readonly commandAt: (x: number) => number
}

export const incrementScale = ({ rests }: Result, { width, height }: Size): IncrementScale => {
  const values = rests.slice(1).map(({ incrementMicrosteps }) => incrementMicrosteps ?? 0)
  const low = values.reduce((a, b) => Math.min(a, b), -0.3)
  const high = incrementTop({ rests })
  const across = (width - room.left - room.right) / Math.max(1, rests.length - 1)
  const up = (height - room.top - room.bottom) / (high - low)
  return { x: (k) => room.left + (k - 0.5) * across, y: (v) => height - room.bottom - (v - low) * up, commandAt: (x) => Math.round((x - room.left) / across + 0.5) }
}

const dot = (pen: Pen, x: number, y: number, { kind, r }: { readonly kind: string; readonly r: number }): void => {
  if (kind === 'merged') pen.rect(x - r, y - r, 2 * r, 2 * r)
  else if (kind === 'reversed') {
    pen.moveTo(x - 1.3 * r, y - r)
    pen.lineTo(x + 1.3 * r, y - r)
    pen.lineTo(x, y + 1.3 * r)
    pen.closePath()
  } else {
    pen.moveTo(x + r, y)
    pen.arc(x, y, r, 0, 2 * Math.PI)
  }
}

const names = [['moved', 'info'], ['merged', 'open'], ['reversed', 'bad'], ['unjudged', 'quiet']] as const

/** Names with units, and the command at the ends and in the middle. */
const drawAxisNames = (pen: Pen, last: number, { x, size }: { readonly x: (command: number) => number; readonly size: Size }): void => {
  pen.textAlign = 'left'
  pen.fillText('increment, microsteps', 4, 14)
  const level = size.height - room.bottom + 15
  for (const [k, align] of [[1, 'left'], [Math.round(last / 2), 'center'], [last, 'right']] as const) {
    pen.textAlign = align
    pen.fillText(String(k), x(k), level)
  }
  pen.textAlign = 'center'
  pen.fillText('command', (room.left + size.width - room.right) / 2, size.height - 5)
}

/** Increment of each command: dot moved, square merged, triangle reversed; nominal and limits as lines. */
export const drawIncrements = (canvas: HTMLCanvasElement, { result }: RestData): void => {
  const sheet = sharp(canvas)
  if (!sheet) return
  const { pen, size } = sheet
  const { x, y } = incrementScale(result, size)
  const many = result.rests.length > 500
  const { low, high } = result.settings.incrementLimits
  pen.fillStyle = colour('quiet')
  pen.strokeStyle = colour('line')
  pen.textAlign = 'right'
  const top = incrementTop(result)
  const step = Math.max(1, Math.ceil(top / 5))
  const whole = Array.from({ length: Math.floor(top / step) + 1 }, (_, i) => [i * step, []] as const)
  const limits = top > 5 ? [] : ([[low, [3, 4]], [high, [3, 4]]] as const)
  for (const [value, dash] of [...whole, ...limits]) {
    pen.beginPath()
    pen.setLineDash([...dash])
    pen.moveTo(room.left, y(value))
    pen.lineTo(size.width - room.right, y(value))
    pen.stroke()
    pen.fillText(String(value), room.left - 8, y(value) + 4)
  }
  pen.setLineDash([])
  drawAxisNames(pen, result.rests.length - 1, { x, size })
  for (const [kind, paint] of names) {
    pen.beginPath()
    result.rests.forEach((rest, k) => {
      if (k > 0 && kindOf(rest) === kind) dot(pen, x(k), y(rest.incrementMicrosteps ?? 0), { kind, r: many ? 1.2 : 3.2 })
    })
    pen.fillStyle = colour(paint)
    pen.strokeStyle = colour(paint)
    if (kind === 'merged' || kind === 'unjudged') pen.stroke()
    else pen.fill()
  }
}

export interface Moved {
  readonly commands: readonly number[]
  readonly values: readonly number[]
}

/** The commands of the chosen mark and, while it is dragged, where their increments are now. */
export const drawIncrementHand = (canvas: HTMLCanvasElement, { result }: RestData, { commands, values }: Moved): void => {
  const sheet = sharp(canvas)
  if (!sheet) return
  const { pen, size } = sheet
  const { x, y } = incrementScale(result, size)
  pen.strokeStyle = colour('pick')
  pen.fillStyle = colour('pick')
  pen.lineWidth = 2
  commands.forEach((k, i) => {
    if (k < 1) return
    pen.beginPath()
    pen.moveTo(x(k), y(result.rests[k]?.incrementMicrosteps ?? 0))
    pen.lineTo(x(k), y(values[i] ?? 0))
    pen.stroke()
    pen.beginPath()
    pen.arc(x(k), y(values[i] ?? 0), 5.5, 0, 2 * Math.PI)
    pen.stroke()
  })
  const first = commands[0]
  if (first === undefined) return
  const [k, value] = first < 1 ? [commands[1] ?? 0, values[1] ?? 0] : [first, values[0] ?? 0]
  const text = `command ${k}: ${value.toFixed(2)} microsteps`
  const half = pen.measureText(text).width / 2
  pen.textAlign = 'center'
  const at = Math.min(size.width - half - 4, Math.max(half + 4, x(first)))
  const level = y(value) < size.height / 2 ? y(value) + 26 : y(value) - 14
  pen.strokeStyle = colour('card')
  pen.lineWidth = 5
  pen.lineJoin = 'round'
  pen.strokeText(text, at, level)
  pen.fillText(text, at, level)
}
