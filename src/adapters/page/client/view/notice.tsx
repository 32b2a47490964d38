import { useEffect } from 'preact/hooks'
import { bench, say } from '#adapters/page/client/app/bench'
import { useStore } from '#adapters/page/client/app/store'

/** The last thing that happened, in a sentence; read out, and gone after a while. */
export const Notice = () => {
  const notice = useStore(bench, (state) => state.notice)
  useEffect(() => {
    if (notice === '') return
    const gone = setTimeout(() => say(''), 5000)
    return () => clearTimeout(gone)
  }, [notice])
  return <p class={notice ? 'notice' : 'notice notice-none'} role="status" aria-live="polite">{notice}</p>
}
