import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import type * as Reader from 'zxing-wasm/reader'
import type { CodeReader } from '#core/detect/sheet/read-payload'

let ready: Promise<typeof Reader> | null = null

const load = async (): Promise<typeof Reader> => {
  const [reader, file] = await Promise.all([import('zxing-wasm/reader'), readFile(createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm'))])
  const wasmBinary = file.buffer.slice(file.byteOffset, file.byteOffset + file.byteLength) as ArrayBuffer
  await reader.prepareZXingModule({ overrides: { wasmBinary }, fireImmediately: true })
  return reader
}

/** Loads the reader and its program from their own package, once, when there is a code to read; nothing is fetched. */
const prepare = (): Promise<typeof Reader> => {
  ready ??= load()
  return ready
}

/** Reads a QR code (ISO/IEC 18004) in a grey picture; null when there is none or its text is not UTF-8. */
export const readCode: CodeReader = async ({ width, height, grey }) => {
  const { readBarcodes } = await prepare()
  const data = new Uint8ClampedArray(4 * width * height)
  for (let i = 0; i < grey.length; i++) data.fill(grey[i] as number, 4 * i, 4 * i + 3)
  for (let i = 3; i < data.length; i += 4) data[i] = 255
  const image = { width, height, data, colorSpace: 'srgb' } as ImageData
  const [found] = await readBarcodes(image, { formats: ['QRCode'], maxNumberOfSymbols: 1, tryHarder: true })
  if (!found?.isValid) return null
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(found.bytes)
  } catch {
    return null
  }
}
