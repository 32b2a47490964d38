import type { FastifyReply } from 'fastify'

/** Aborted when the browser leaves a request, or has left it; to be asked for before anything is waited for, as what is missed is not told again. */
export const stopWhenLeft = ({ raw }: FastifyReply): AbortSignal => {
  const stop = new AbortController()
  raw.on('close', () => stop.abort())
  if (raw.destroyed) stop.abort()
  return stop.signal
}
