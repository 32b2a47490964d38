import { useState } from 'preact/hooks'
import { bench, theBackend } from '#adapters/page/client/app/bench'
import { useStore } from '#adapters/page/client/app/store'
import { Box } from './box.tsx'

interface Way {
  readonly code: string
  readonly minutes: number
  readonly addresses: readonly string[]
}

/** Lets a phone in: an address and a code that works once. */
export const PhoneBox = () => {
  const lan = useStore(bench, (state) => state.project?.lan ?? false)
  const [way, setWay] = useState<Way | null>(null)
  if (!lan) return null
  return (
    <>
      <button type="button" class="plain" onClick={() => void theBackend().phoneCode().then(setWay)}>Phone…</button>
      {way && (
        <Box title="Let a phone in" close={() => setWay(null)}>
          <p>On the phone, in the same network, open</p>
          {way.addresses.map((address) => <p key={address} class="big-text">{address}</p>)}
          <p>and give this code. It works once, for {way.minutes} minutes.</p>
          <p class="code">{way.code.slice(0, 4)} {way.code.slice(4)}</p>
        </Box>
      )}
    </>
  )
}
