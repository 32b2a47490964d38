/** Longest side of the picture of a photo with its marks, px, and how much of the photo's contrast is kept under them. */
const longest = 2600
const kept = 0.55

/** Pictures of a chart are drawn at twice its size, so that they stay sharp on paper. */
const chartScale = 2

const pictureOf = async (svg: string): Promise<HTMLImageElement> => {
  const url = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }))
  try {
    const image = new Image()
    image.src = url
    await image.decode()
    return image
  } finally {
    URL.revokeObjectURL(url)
  }
}

const canvasOf = (width: number, height: number): { readonly canvas: HTMLCanvasElement; readonly pen: CanvasRenderingContext2D } => {
  const canvas = document.createElement('canvas')
  canvas.width = Math.max(1, Math.round(width))
  canvas.height = Math.max(1, Math.round(height))
  const pen = canvas.getContext('2d')
  if (!pen) throw new Error('this browser cannot draw pictures')
  return { canvas, pen }
}

const pngOf = (canvas: HTMLCanvasElement): Promise<Uint8Array> =>
  new Promise((resolve, reject) => {
    canvas.toBlob((blob) => (blob ? void blob.arrayBuffer().then((bytes) => resolve(new Uint8Array(bytes))) : reject(new Error('a picture could not be drawn'))), 'image/png')
  })

/** A chart as a PNG. */
export const chartPng = async (svg: string): Promise<Uint8Array> => {
  const image = await pictureOf(svg)
  const { canvas, pen } = canvasOf(image.naturalWidth * chartScale, image.naturalHeight * chartScale)
  pen.drawImage(image, 0, 0, canvas.width, canvas.height)
  return pngOf(canvas)
}

/** The photo, upright and paled, with its marks drawn over it, as a PNG; nothing the camera wrote into the file comes with it. */
export const overlayPng = async (photo: Blob, svg: string): Promise<Uint8Array> => {
  const [bitmap, drawing] = await Promise.all([createImageBitmap(photo, { imageOrientation: 'from-image' }), pictureOf(svg)])
  const scale = Math.min(1, longest / Math.max(bitmap.width, bitmap.height))
  const { canvas, pen } = canvasOf(bitmap.width * scale, bitmap.height * scale)
  pen.fillStyle = '#ffffff'
  pen.fillRect(0, 0, canvas.width, canvas.height)
  pen.globalAlpha = kept
  pen.drawImage(bitmap, 0, 0, canvas.width, canvas.height)
  pen.globalAlpha = 1
  pen.drawImage(drawing, 0, 0, canvas.width, canvas.height)
  bitmap.close()
  return pngOf(canvas)
}
