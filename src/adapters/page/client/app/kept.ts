import { useState } from 'preact/hooks'

/** A small choice that this browser remembers. */
export const useKept = (name: string, first: string): readonly [string, (value: string) => void] => {
  const [value, setValue] = useState(() => localStorage.getItem(`bench:${name}`) ?? first)
  return [value, (next) => {
    localStorage.setItem(`bench:${name}`, next)
    setValue(next)
  }]
}
