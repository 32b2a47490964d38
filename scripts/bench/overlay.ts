import sharp from 'sharp'
import type { Detection } from '#core/detect/detection'
import type { Point } from '#core/detect/raster'
import { matchMarks } from './match.ts'
import type { TruthFile } from './truth-file.ts'

const line = ([a, b]: readonly [Point, Point], colour: string, width: number): string =>
  `<line x1="${a[0]}" y1="${a[1]}" x2="${b[0]}" y2="${b[1]}" stroke="${colour}" stroke-width="${width}" stroke-linecap="round"/>`

/**
 * The photo with truth and finding on it: found green, missed red, spurious magenta, refused orange, hidden marks grey,
 * true centre blue cross, detected centre cyan circle.
 */
export const drawOverlay = async (photo: Uint8Array, detection: Detection | null, truth: TruthFile): Promise<Buffer> => {
  const taken = detection?.marks.filter((m) => m.confidence >= 0.5) ?? []
  const { missed, spurious } = matchMarks(taken, truth)
  const thin = Math.max(1, truth.photo.width / 1600)
  const parts = [
    ...truth.marks.map((m, i) => line(m.endsPx, missed.includes(i) ? '#f00' : m.visible < 0.8 ? '#999' : '#0c0', thin)),
    ...spurious.flatMap((i) => { const m = taken[i]; return m === undefined ? [] : [line([m.p0, m.p1], '#f0f', 2 * thin)] }),
    ...(detection?.refused ?? []).map((r) => line([r.p0, r.p1], '#f90', thin)),
    ...(detection?.cornersPx ?? []).map(([x, y]) => `<circle cx="${x}" cy="${y}" r="${8 * thin}" fill="none" stroke="#0ff" stroke-width="${thin}"/>`),
    ...(detection?.centrePx ? [`<circle cx="${detection.centrePx[0]}" cy="${detection.centrePx[1]}" r="${9 * thin}" fill="none" stroke="#0ff" stroke-width="${2 * thin}"/>`] : []),
    ...(truth.centrePx ? [`<path d="M${truth.centrePx[0] - 12 * thin} ${truth.centrePx[1]}h${24 * thin}m${-12 * thin} ${-12 * thin}v${24 * thin}" stroke="#00f" stroke-width="${thin}"/>`] : []),
  ]
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${truth.photo.width}" height="${truth.photo.height}">${parts.join('')}</svg>`
  const upright = await sharp(photo).rotate().toBuffer()
  return sharp(upright).composite([{ input: Buffer.from(svg) }]).png().toBuffer()
}
