import { useState } from 'preact/hooks'
import { isUnmeasurable } from '#core/quantity/unmeasurable'
import { keepKey } from '#adapters/page/client/backend/bench-key'
import { joinWithCode } from '#adapters/page/client/backend/server-backend'

const join = async (code: string): Promise<string> => {
  const key = await joinWithCode(code)
  if (isUnmeasurable(key)) return `${key.what}; ${key.remedy}.`
  keepKey(key)
  location.reload()
  return ''
}

/** What a phone sees first. */
export const JoinBox = () => {
  const [code, setCode] = useState('')
  const [wrong, setWrong] = useState('')
  return (
    <main class="join" id="work">
      <h1>Join the bench</h1>
      <p>Open the page with the link the terminal printed, or give the code shown at the bench.</p>
      <form onSubmit={(event) => { event.preventDefault(); void join(code).then(setWrong) }}>
        <label class="field"><span>One-time code</span><input class="code" inputMode="numeric" autocomplete="one-time-code" value={code} onInput={({ currentTarget }) => setCode(currentTarget.value)} aria-describedby="join-wrong" /></label>
        <p id="join-wrong" class="wrong" role="alert">{wrong}</p>
        <button type="submit" class="main">Join</button>
      </form>
    </main>
  )
}
