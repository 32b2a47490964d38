import type { Candidate } from '#core/detect/line/candidate'
import { photoPlane } from '#core/detect/plane-map'
import { rayOf } from '#core/detect/centre/seen-from-centre'
import { selectMarks } from '#core/detect/dial/select-marks'
import { usualLine } from '#core/detect/dial/vote-centre'
import { describe, expect, it } from 'vitest'
import { type DrawnStroke, radial } from '../draw-raster.ts'

const CENTRE = [330.2, 250.7] as const

const turned = ({ from, to, ...rest }: DrawnStroke, deg: number): DrawnStroke => {
  const [mx, my] = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]
  const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)]
  const about = ([x, y]: readonly [number, number]) => [mx + c * (x - mx) - s * (y - my), my + s * (x - mx) + c * (y - my)] as const
  return { ...rest, from: about(from), to: about(to) }
}

/** cos 40° */
const SQUEEZE = 0.77

/** A hand whose strokes scatter by some three degrees about the shaft's direction (simulated). */
const LEANS = [3, -2, 4, -4, 1, -3, 2, 5]

const candidateOf = ({ from, to, width }: DrawnStroke, depth = 0.8): Candidate => {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1])
  return { p0: from, p1: to, middle: [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2], along: [(to[0] - from[0]) / length, (to[1] - from[1]) / length], lengthPx: length, widthPx: width, depth, share: 1, step: 0, beside: 5 }
}

describe('strokes that are marks', () => {
  const marks = Array.from({ length: 24 }, (_, i) => turned(radial(CENTRE, 15 * i, [164, 190], 3, 110), LEANS[i % LEANS.length] as number))

  it('takes one drawn in haste, thirteen degrees off the shaft’s direction, when it is like the others in all else', () => {
    const hasty = turned(radial(CENTRE, 15 * 7, [164, 190], 3), 13)
    const rays = [...marks.filter((_, i) => i !== 7), hasty].map((m) => rayOf(candidateOf(m), photoPlane, CENTRE))
    expect(selectMarks(rays)?.taken.length).toBe(marks.length)
  })

  it('but no faint or long line that leans as much', () => {
    const line = turned(radial(CENTRE, 97, [140, 215], 3), 11)
    const faint = turned(radial(CENTRE, 127, [164, 190], 3), 11)
    const rays = [...marks.map((m) => candidateOf(m)), candidateOf(line), candidateOf(faint, 0.3)].map((c) => rayOf(c, photoPlane, CENTRE))
    expect(selectMarks(rays)?.taken.length).toBe(marks.length)
  })

  it('takes one that was traced as part of a compass arc that crosses it, but no short part of a digit', () => {
    const crossed = marks.map((m, i) => ({ ...candidateOf(m), share: i === 5 ? 0.2 : 1 }))
    const digit = { ...candidateOf(radial(CENTRE, 127, [168, 176], 3)), share: 0.2 }
    expect(selectMarks([...crossed, digit].map((c) => rayOf(c, photoPlane, CENTRE)))?.taken.length).toBe(marks.length)
  })

  it('takes the marks, not the numbers written beside each, though their strokes are four times as many', () => {
    // Digits 5 px high (simulated): their strokes aim anywhere within seven degrees of the shaft.
    const digits = marks.flatMap((_, i) => [0, 1, 2, 3].map((k) => turned(radial(CENTRE, 15 * i + 2 * k - 3, [204, 209], 2), LEANS[(i + 3 * k) % LEANS.length] as number)))
    const taken = selectMarks([...marks, ...digits].map((m) => rayOf(candidateOf(m), photoPlane, CENTRE)))?.taken ?? []
    expect(taken.map((r) => Math.round(r.outer))).toEqual(marks.map(() => 190))
  })

  it('judges by the marks beside it what lies in the ring, which a slanting camera smears', () => {
    // Radii from 116 to 187 px across the tilt and from 150 along it; the short one reaches from 111 to 128.
    const whole = Array.from({ length: 48 }, (_, i) => radial(CENTRE, 7.5 * i, i === 12 ? [144, 166] : [150, 187], 2))
    const squeezed = whole.map(({ from, to, ...rest }): DrawnStroke => ({ ...rest, from: [from[0], CENTRE[1] + SQUEEZE * (from[1] - CENTRE[1])], to: [to[0], CENTRE[1] + SQUEEZE * (to[1] - CENTRE[1])] }))
    const rays = squeezed.map((m) => rayOf(candidateOf(m), photoPlane, CENTRE))
    expect(selectMarks(rays)?.taken.length).toBe(whole.length)
  })

  it('follows the ring round, where a slanting camera close by moves short strokes by more than their length', () => {
    // Tilt 30°, the camera three radii away: 208 px on the near side, 200 across, 148 on the far one.
    const seen = ([x, y]: readonly [number, number]) => {
      const [dx, dy] = [x - CENTRE[0], y - CENTRE[1]]
      const share = 1 / (1 + (dx * 0.5) / 600)
      return [CENTRE[0] + 0.866 * dx * share, CENTRE[1] + dy * share] as const
    }
    const near = Array.from({ length: 40 }, (_, i) => radial(CENTRE, 9 * i, [193, 207], 2)).map(({ from, to, ...rest }): DrawnStroke => ({ ...rest, from: seen(from), to: seen(to) }))
    expect(selectMarks(near.map((m) => rayOf(candidateOf(m), photoPlane, CENTRE)))?.taken.length).toBe(near.length)
  })
})

describe('the usual line of a picture', () => {
  it('is as long as its pen strokes, whatever faint ruling lies beneath', () => {
    const strokes = Array.from({ length: 20 }, (_, i) => candidateOf(radial(CENTRE, 18 * i, [164, 190])))
    const rules = Array.from({ length: 30 }, (_, i) => candidateOf({ from: [0, 16 * i], to: [660, 16 * i], width: 1, dark: 10 }, 0.08))
    expect(usualLine([...strokes, ...rules]).lengthPx).toBeCloseTo(26, 6)
  })
})
