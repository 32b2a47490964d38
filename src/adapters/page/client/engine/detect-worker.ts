import { detect } from '#core/detect/detect'
import { uprightGrey } from '#core/detect/grey'
import { lensInFile } from '#core/ingest/lens-in-file'
import type { Raster } from '#core/detect/raster'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import type { DetectJob } from '#adapters/page/client/backend/detect-here'

const mostPixels = 51e6
/** What stands before the picture itself is in the first bytes. */
const headBytes = 2 ** 18

/** The photo upright and grey, as the browser decodes it, with the lens that the file names; colours are left as they are stored. */
const rasterOf = async (photo: Blob): Promise<Raster | Unmeasurable> => {
  const bitmap = await createImageBitmap(photo, { imageOrientation: 'from-image', colorSpaceConversion: 'none', premultiplyAlpha: 'none' }).catch(() => null)
  if (!bitmap) return unmeasurable('this is not a picture that can be read', 'photo', 'give a JPEG, PNG or WebP photo (save HEIC as JPEG first)')
  const { width, height } = bitmap
  if (width * height > mostPixels) return unmeasurable(`the picture is ${width} × ${height} pixels, more than 50 megapixels`, 'photo', 'scale it down or crop it to the paper')
  const pen = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true })
  if (!pen) return unmeasurable('this browser cannot decode pictures in a worker', 'photo', 'use a newer browser')
  pen.drawImage(bitmap, 0, 0)
  bitmap.close()
  const lens = await lensInFile(new Uint8Array(await photo.slice(0, headBytes).arrayBuffer()), width, height)
  return { ...uprightGrey({ width, height, channels: 4, samples: pen.getImageData(0, 0, width, height).data }), ...(lens && { lens }) }
}

self.addEventListener('message', async ({ data: { photo, hints } }: MessageEvent<DetectJob>) => {
  const raster = await rasterOf(photo)
  self.postMessage(isUnmeasurable(raster) ? raster : detect(raster, hints))
})
