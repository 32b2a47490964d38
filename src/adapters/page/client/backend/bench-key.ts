const place = 'bench:key'

/** The key of this device: from the link once, then kept by this browser for this address. */
export const benchKey = (): string => localStorage.getItem(place) ?? ''

export const keepKey = (key: string): void => localStorage.setItem(place, key)

/** Takes the key out of the link, so that it stands neither in the address bar nor in the history. */
export const takeKeyFromLink = (): void => {
  const key = new URLSearchParams(location.hash.slice(1)).get('key')
  if (key === null) return
  keepKey(key)
  history.replaceState(null, '', `${location.pathname}${location.search}`)
}
