import { useState } from 'preact/hooks'
import { create, createExample, say } from '#adapters/page/client/app/bench'
import { goTo, type StepId } from '#adapters/page/client/app/step'

const way = [
  ['Print a sheet', 'and put it under the motor’s pointer.'],
  ['Step slowly', 'and mark every place where the pointer comes to rest; the page counts along.'],
  ['Photograph the sheet', 'or type the marks, and check what was found.'],
  ['Read the verdict', 'mode by mode, with its uncertainty, and keep the evidence.'],
] as const

/** The empty bench: what this is for, one question, and an example to look round with. */
export const FirstTest = () => {
  const [name, setName] = useState('')
  const [wrong, setWrong] = useState('')
  // The step first: a person who has gone on meanwhile is not called back.
  const begin = (step: StepId): void => {
    goTo(step)
    void create(name.trim() || 'Motor 1')
  }
  const example = async (): Promise<void> => {
    goTo('verdict')
    const refused = await createExample()
    setWrong(refused)
    if (!refused) say('An example, simulated. Change anything; it is yours.')
  }
  return (
    <div class="first">
      <form class="card first-form" onSubmit={(event) => { event.preventDefault(); begin('marks') }}>
        <p>A driver promises many small steps; a salvaged motor may make only some of them. A pen mark at every place where the shaft comes to rest shows which.</p>
        <label class="field"><span>What do you call this motor?</span><input value={name} maxLength={80} placeholder="heater flap, 48 steps" onInput={({ currentTarget }) => setName(currentTarget.value)} /></label>
        <div class="buttons">
          <button type="submit" class="main">Put it on the bench</button>
          <button type="button" onClick={() => begin('plan')}>Plan the test first</button>
        </div>
      </form>
      <ol class="card way">{way.map(([what, how]) => <li key={what}><strong>{what}</strong> {how}</li>)}</ol>
      <p class="example"><button type="button" onClick={() => void example()}>Look round with an example</button> <span class="hint">a simulated 48-step motor, typed marks</span></p>
      {wrong && <p class="wrong" role="alert">{wrong}</p>}
    </div>
  )
}
