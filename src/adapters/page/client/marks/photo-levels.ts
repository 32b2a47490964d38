import type { Size } from './view.ts'

/** A photo, upright, at full size and halved again and again, so that drawing it small stays quick. */
export interface PhotoLevels extends Size {
  readonly levels: readonly ImageBitmap[]
}

const halved = (from: ImageBitmap): Promise<ImageBitmap> =>
  createImageBitmap(from, { resizeWidth: Math.max(1, from.width >> 1), resizeHeight: Math.max(1, from.height >> 1), resizeQuality: 'medium' })

/** Decodes in the browser, honouring the orientation tag. */
export const photoLevels = async (photo: Blob): Promise<PhotoLevels> => {
  const levels = [await createImageBitmap(photo, { imageOrientation: 'from-image' })]
  const [first] = levels as [ImageBitmap]
  for (let at = first; Math.max(at.width, at.height) > 700; levels.push(at)) at = await halved(at)
  return { width: first.width, height: first.height, levels }
}

/** The smallest level that is still as fine as the screen. */
export const levelFor = ({ levels }: PhotoLevels, scale: number): { readonly bitmap: ImageBitmap; readonly factor: number } => {
  const level = Math.min(levels.length - 1, Math.max(0, Math.floor(Math.log2(1 / scale))))
  const bitmap = levels[level] as ImageBitmap
  return { bitmap, factor: (levels[0] as ImageBitmap).width / bitmap.width }
}
