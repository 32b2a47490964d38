import { useEffect, useRef, useState } from 'preact/hooks'

/** How long it has been going on: a number that counts costs the machine nothing, unlike a bar that runs to and fro. */
const Seconds = () => {
  const [seconds, setSeconds] = useState(0)
  useEffect(() => {
    const timer = setInterval(() => setSeconds((now) => now + 1), 1000)
    return () => clearInterval(timer)
  }, [])
  return <span class="seconds" aria-hidden="true">{seconds} s</span>
}

/** Work that takes a while: what is being done, for how long already, and a way to stop it. */
export const LongWork = ({ step, stop }: { readonly step: string; readonly stop: () => void }) => {
  const button = useRef<HTMLButtonElement>(null)
  // What began it has gone from the page; the focus would be lost with it.
  useEffect(() => button.current?.focus({ preventScroll: true }), [])
  return (
    <div class="progress">
      <span role="status">{step}</span> <Seconds />
      <button ref={button} type="button" onClick={stop}>Stop</button>
    </div>
  )
}
