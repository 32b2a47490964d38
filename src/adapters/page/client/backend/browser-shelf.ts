/** One kind of thing in this browser's own store, by name. */
export interface Shelf<T> {
  readonly get: (name: string) => Promise<T | undefined>
  readonly put: (name: string, value: T) => Promise<void>
  readonly all: () => Promise<readonly (readonly [name: string, value: T])[]>
}

const kinds = ['tests', 'photos', 'results', 'notes', 'folders'] as const
type Kind = (typeof kinds)[number]

const answer = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result)
    request.onerror = () => reject(request.error ?? new Error('the browser could not keep it'))
  })

let opened: Promise<IDBDatabase> | null = null

const store = (): Promise<IDBDatabase> => {
  if (opened) return opened
  const request = indexedDB.open('bench', 2)
  request.onupgradeneeded = () => { for (const kind of kinds) if (!request.result.objectStoreNames.contains(kind)) request.result.createObjectStore(kind) }
  opened = answer(request)
  return opened
}

const within = async (kind: Kind, mode: IDBTransactionMode): Promise<IDBObjectStore> => (await store()).transaction(kind, mode).objectStore(kind)

export const shelf = <T>(kind: Kind): Shelf<T> => ({
  get: async (name) => answer((await within(kind, 'readonly')).get(name) as IDBRequest<T | undefined>),
  put: async (name, value) => {
    await answer((await within(kind, 'readwrite')).put(value, name))
  },
  all: async () => {
    const place = await within(kind, 'readonly')
    const [names, values] = await Promise.all([answer(place.getAllKeys()), answer(place.getAll() as IDBRequest<T[]>)])
    return names.map((name, i) => [String(name), values[i] as T] as const)
  },
})
