import { bench } from '#adapters/page/client/app/bench'
import { createStore, useStore } from '#adapters/page/client/app/store'
import type { NeedTexts } from '#core/decide/compare/read-needs'

const place = 'bench:needs'

const kept = (): NeedTexts => {
  try {
    return JSON.parse(localStorage.getItem(place) ?? '{}') as NeedTexts
  } catch {
    return {}
  }
}

const needs = createStore<{ readonly texts: NeedTexts }>({ texts: kept() })

/** What each need is called in a refusal. */
export const needNames = { effective: 'effective microsteps', mode: 'mode that must hold', resolution: 'coarsest step', reversal: 'lost on reversing' } as const

/** The requirement as typed; this browser remembers it. */
export const useNeeds = (): readonly [NeedTexts, (part: NeedTexts) => void] => {
  const texts = useStore(needs, (state) => state.texts)
  return [texts, (part) => {
    const next = { ...needs.get().texts, ...part }
    localStorage.setItem(place, JSON.stringify(next))
    needs.set({ texts: next })
  }]
}

const modes = [['', 'does not matter'], ['1', 'full steps'], ['2', 'half steps or finer'], ['4', '1/4 steps or finer'], ['8', '1/8 steps or finer'], ['16', '1/16 steps or finer'], ['32', '1/32 steps or finer']] as const

/** What the machine asks of its motor; anything may be left open. */
export const CompareFields = () => {
  const [texts, set] = useNeeds()
  const trains = useStore(bench, (state) => state.work?.machine.trains ?? [])
  const train = texts.train ?? ''
  const at = train === '' ? 'at the shaft' : 'at the carriage'
  const example = train === '' ? '0.5 deg' : '0.02 mm'
  return (
    <section class="card" aria-label="Requirement">
      <h2>What the machine needs</h2>
      <div class="fields">
        <label class="field"><span>Mode that must hold</span><select value={texts.mode ?? ''} onChange={({ currentTarget }) => set({ mode: currentTarget.value })}>{modes.map(([value, name]) => <option key={value} value={value}>{name}</option>)}</select><small>of the steps commanded</small></label>
        <label class="field"><span>Effective microsteps</span><input inputMode="decimal" value={texts.effective ?? ''} placeholder="any" onInput={({ currentTarget }) => set({ effective: currentTarget.value })} /><small>at least so many per full step</small></label>
        <label class="field"><span>Measured</span><select value={train} onChange={({ currentTarget }) => set({ train: currentTarget.value, resolution: '', reversal: '' })}>
          <option value="">at the motor’s shaft</option>
          {[...new Set([...trains, ...(train ? [train] : [])])].map((each) => <option key={each} value={each}>behind {each}</option>)}
        </select><small>drive trains come from Machine</small></label>
        <label class="field"><span>Coarsest step that will do</span><input value={texts.resolution ?? ''} placeholder="any" onInput={({ currentTarget }) => set({ resolution: currentTarget.value })} /><small>{at}, such as {example}</small></label>
        <label class="field"><span>Most lost on reversing</span><input value={texts.reversal ?? ''} placeholder="any" onInput={({ currentTarget }) => set({ reversal: currentTarget.value })} /><small>{at}; needs a run there and back</small></label>
      </div>
    </section>
  )
}
