import { useState } from 'preact/hooks'
import { bench, create, say } from '#adapters/page/client/app/bench'
import { goTo } from '#adapters/page/client/app/step'
import { Box } from './box.tsx'

/** Another motor on the bench: asks what it is called. */
export const NewTest = () => {
  const [asking, setAsking] = useState(false)
  const [name, setName] = useState('')
  const begin = async (event: Event): Promise<void> => {
    event.preventDefault()
    const called = name.trim() || `Motor ${(bench.get().project?.tests.length ?? 0) + 1}`
    setAsking(false)
    setName('')
    goTo('marks')
    await create(called)
    say(`${called} is on the bench.`)
  }
  return (
    <>
      <button type="button" class="plain" onClick={() => setAsking(true)}>+ <span class="wide">New test</span><span class="unseen narrow-only">New test</span></button>
      {asking && (
        <Box title="Another motor" close={() => setAsking(false)}>
          <form class="first-form" onSubmit={(event) => void begin(event)}>
            <label class="field"><span>What do you call it?</span><input value={name} maxLength={80} onInput={({ currentTarget }) => setName(currentTarget.value)} /><small>the same motor with another current is a test of its own</small></label>
            <button type="submit" class="main">Put it on the bench</button>
          </form>
        </Box>
      )}
    </>
  )
}
