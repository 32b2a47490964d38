import type { ComponentType } from 'preact'
import { useEffect, useState } from 'preact/hooks'

/** A screen whose code is fetched when it is first shown. */
export const fetchedLater = (load: () => Promise<ComponentType>): ComponentType => {
  let known: ComponentType | null = null
  return () => {
    const [Shown, setShown] = useState<ComponentType | null>(() => known)
    useEffect(() => {
      if (known) return
      void load().then((component) => {
        known = component
        setShown(() => component)
      })
    }, [])
    return Shown ? <Shown /> : <p class="hint" role="status">One moment…</p>
  }
}
