import { useEffect, useState } from 'preact/hooks'

/** A value that can be watched. */
export interface Store<S> {
  readonly get: () => S
  readonly set: (part: Partial<S>) => void
  readonly watch: (watcher: (state: S) => void) => () => void
}

export const createStore = <S extends object>(initial: S): Store<S> => {
  let state = initial
  const watchers = new Set<(state: S) => void>()
  return {
    get: () => state,
    set: (part) => {
      state = { ...state, ...part }
      for (const watcher of watchers) watcher(state)
    },
    watch: (watcher) => {
      watchers.add(watcher)
      return () => watchers.delete(watcher)
    },
  }
}

/** Part of a store in a component; drawn again only when that part is another value. */
export const useStore = <S extends object, P>(store: Store<S>, part: (state: S) => P): P => {
  const [value, setValue] = useState(() => part(store.get()))
  useEffect(() => {
    const update = (): void => setValue(() => part(store.get()))
    update()
    return store.watch(update)
  }, [store])
  return value
}
