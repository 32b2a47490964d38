import { useEffect, useState } from 'preact/hooks'
import { bench, theBackend } from '#adapters/page/client/app/bench'
import { useStore } from '#adapters/page/client/app/store'
import { type PhotoLevels, photoLevels } from '#adapters/page/client/marks/photo-levels'

/** The photo of the test on the bench, decoded once; null until it is, and where there is none. */
export const usePhoto = (): PhotoLevels | null => {
  const sha = useStore(bench, (state) => state.work?.photo?.sha256 ?? '')
  const [levels, setLevels] = useState<PhotoLevels | null>(null)
  useEffect(() => {
    let gone = false
    const { id } = bench.get()
    const load = async (): Promise<void> => {
      const photo = id === null || sha === '' ? null : await theBackend().photo(id)
      const read = photo && (await photoLevels(photo).catch(() => null))
      if (!gone) setLevels(read)
    }
    void load()
    return () => { gone = true }
  }, [sha])
  return levels
}
