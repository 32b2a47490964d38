import { useEffect, useState } from 'preact/hooks'

/** A button for what cannot be taken back: the first press asks, the second within five seconds does it. */
export const SureButton = ({ label, sure, disabled = false, act }: { readonly label: string; readonly sure: string; readonly disabled?: boolean; readonly act: () => void }) => {
  const [asked, setAsked] = useState(false)
  useEffect(() => {
    if (!asked) return
    const over = setTimeout(() => setAsked(false), 5000)
    return () => clearTimeout(over)
  }, [asked])
  const press = (): void => {
    setAsked(!asked)
    if (asked) act()
  }
  return <button type="button" class={asked ? 'call' : ''} disabled={disabled} aria-live="polite" onClick={press}>{asked ? sure : label}</button>
}
