import type { Backend } from './backend.ts'

/** True in the variant that is built as static files; a constant when the page is bundled. */
declare const __STATIC__: boolean

/** The backend this variant of the page was built for; the other one is not part of the bundle. */
export const chosenBackend = async (): Promise<Backend> =>
  __STATIC__ ? (await import('./browser-backend.ts')).browserBackend : (await import('./server-backend.ts')).serverBackend
