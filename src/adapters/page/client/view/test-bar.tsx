import { useState } from 'preact/hooks'
import { bench, create, open, say, type SaveState } from '#adapters/page/client/app/bench'
import { useStore } from '#adapters/page/client/app/store'
import { chooseTheme, theme, type Theme } from '#adapters/page/client/app/theme'
import { PhoneBox } from './phone-box.tsx'

const saveWords: Readonly<Record<SaveState, string>> = { saved: 'Saved', saving: 'Saving…', waiting: 'Not on disk yet: kept in this browser, trying again', conflict: 'Two windows disagree' }

const SaveMark = () => {
  const saving = useStore(bench, (state) => state.saving)
  return <span class={`save save-${saving}`} role="status">{saveWords[saving]}</span>
}

const newName = async (): Promise<void> => {
  const { project } = bench.get()
  const count = (project?.tests.length ?? 0) + 1
  await create(`Motor ${count}`)
  say(`A new test, Motor ${count}.`)
}

const themes: readonly Theme[] = ['auto', 'light', 'dark']

const ThemeButton = () => {
  const now = useStore(theme, (state) => state.theme)
  const next = themes[(themes.indexOf(now) + 1) % themes.length] as Theme
  return <button type="button" class="plain" aria-label={`Light: ${now}. Change to ${next}`} onClick={() => chooseTheme(next)}>{now === 'auto' ? '◐' : now === 'light' ? '○' : '●'} <span class="wide">{now}</span></button>
}

/** Which test is on the bench, whether it is saved, light or dark, and the way in for a phone. */
export const TestBar = () => {
  const project = useStore(bench, (state) => state.project)
  const id = useStore(bench, (state) => state.id)
  const name = useStore(bench, (state) => state.work?.name ?? '')
  const tests = project?.tests ?? []
  const known = tests.some((test) => test.id === id)
  return (
    <header class="bar">
      <span class="sign" aria-hidden="true"><i /><i /><i /></span>
      {id !== null && (
        <>
          <label class="unseen" for="test">Test on the bench</label>
          <select id="test" value={id} onChange={({ currentTarget }) => void open(currentTarget.value)}>
            {!known && <option value={id}>{name}</option>}
            {tests.map((test) => <option key={test.id} value={test.id}>{test.id === id ? name : test.name}</option>)}
          </select>
          <button type="button" class="plain" onClick={() => void newName()}>+ <span class="wide">New test</span><span class="unseen narrow-only">New test</span></button>
          <SaveMark />
        </>
      )}
      <span class="gap" />
      <PhoneBox />
      <ThemeButton />
    </header>
  )
}

/** The empty bench: one question. */
export const FirstTest = () => {
  const [name, setName] = useState('')
  return (
    <form class="card first" onSubmit={(event) => { event.preventDefault(); void create(name.trim() || 'Motor 1') }}>
      <p>A pen mark at every rest position of a slowly stepped motor says which of its microsteps are real. Begin with the motor.</p>
      <label class="field"><span>What do you call this motor?</span><input value={name} maxLength={80} placeholder="heater flap, 48 steps" onInput={({ currentTarget }) => setName(currentTarget.value)} /></label>
      <button type="submit" class="main">Put it on the bench</button>
    </form>
  )
}
