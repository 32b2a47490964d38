import { bench, open, type SaveState } from '#adapters/page/client/app/bench'
import { useStore } from '#adapters/page/client/app/store'
import { chooseTheme, theme, type Theme } from '#adapters/page/client/app/theme'
import { NewTest } from './new-test.tsx'
import { PhoneBox } from './phone-box.tsx'

const saveWords: Readonly<Record<SaveState, string>> = { saved: 'Saved', saving: 'Saving…', waiting: 'Not on disk yet: kept in this browser, trying again', conflict: 'Two windows disagree' }

const SaveMark = () => {
  const saving = useStore(bench, (state) => state.saving)
  return <span class={`save save-${saving}`} role="status">{saveWords[saving]}</span>
}

const themes: readonly Theme[] = ['auto', 'light', 'dark']

const themeWords: Readonly<Record<Theme, string>> = { auto: 'As the system', light: 'Light page', dark: 'Dark page' }

const ThemeButton = () => {
  const now = useStore(theme, (state) => state.theme)
  const next = themes[(themes.indexOf(now) + 1) % themes.length] as Theme
  return <button type="button" class="plain" aria-label={`${themeWords[now]}. Change to ${next}`} title={themeWords[now]} onClick={() => chooseTheme(next)}><span aria-hidden="true">{now === 'auto' ? '◐' : now === 'light' ? '○' : '●'}</span> <span class="wide">{themeWords[now]}</span></button>
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
      {id === null && <strong>stepwitness bench</strong>}
      {id !== null && (
        <>
          <label class="unseen" for="test">Test on the bench</label>
          <select id="test" value={id} onChange={({ currentTarget }) => void open(currentTarget.value)}>
            {!known && <option value={id}>{name}</option>}
            {tests.map((test) => <option key={test.id} value={test.id}>{test.id === id ? name : test.name}</option>)}
          </select>
          <NewTest />
          <SaveMark />
        </>
      )}
      <span class="gap" />
      <PhoneBox />
      <ThemeButton />
    </header>
  )
}
