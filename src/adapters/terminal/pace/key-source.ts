/** Keys as they come, one at a time; null for the end of the input or when the time given is over. */
export interface KeySource {
  /** The next key, or 'time' when none came within `ms` (Infinity waits), or 'end' when no more can come and the time is Infinity. */
  readonly next: (
    ms: number,
  ) => Promise<{ readonly kind: 'key'; readonly key: string } | { readonly kind: 'time' } | { readonly kind: 'end' }>
  readonly close: () => void
}

type Waiting = () => void

/**
 * Keys from a terminal (raw, unechoed) or a pipe (any text, its line ends are Enter). The terminal is put back on close.
 * A pipe that ends leaves the clock to go on alone.
 */
export const keySource = (input: NodeJS.ReadStream): KeySource => {
  const keys: string[] = []
  let ended = false
  let wake: Waiting = () => undefined
  const take = (chunk: string): void => {
    keys.push(...chunk.replace(/\r\n/g, '\n').replace(/\u001b\[[0-9;]*[A-Za-z~]/g, ''))
    wake()
  }
  const end = (): void => {
    ended = true
    wake()
  }
  input.setEncoding('utf8')
  if (input.isTTY) input.setRawMode(true)
  input.on('data', take).on('end', end).on('error', end)
  input.resume()
  const woken = (ms: number): Promise<void> =>
    new Promise((resolve) => {
      const timer = Number.isFinite(ms) ? setTimeout(resolve, Math.max(0, ms)) : undefined
      wake = () => {
        clearTimeout(timer)
        resolve()
      }
    })
  return {
    next: async (ms) => {
      const until = performance.now() + ms
      for (;;) {
        const key = keys.shift()
        if (key !== undefined) return { kind: 'key', key }
        if (ended && !Number.isFinite(ms)) return { kind: 'end' }
        if (performance.now() >= until) return { kind: 'time' }
        await woken(until - performance.now())
      }
    },
    close: () => {
      if (input.isTTY) input.setRawMode(false)
      input.off('data', take).off('end', end).off('error', end)
      input.pause()
    },
  }
}
