import { createStore } from './store.ts'

export const steps = [
  { id: 'plan', name: 'Plan', title: 'What will this rig be able to show?' },
  { id: 'print', name: 'Print', title: 'Print the marking sheet' },
  { id: 'pace', name: 'Pace', title: 'Step the motor, mark every rest' },
  { id: 'marks', name: 'Marks', title: 'Check the marks' },
  { id: 'verdict', name: 'Verdict', title: 'Which microsteps are real?' },
  { id: 'machine', name: 'Machine', title: 'What does that give at the carriage?' },
  { id: 'note', name: 'Note', title: 'Keep the evidence' },
  { id: 'compare', name: 'Compare', title: 'Which motor for the machine?' },
] as const

export type StepId = (typeof steps)[number]['id']

const isStep = (id: string): id is StepId => steps.some((step) => step.id === id)

const fromAddress = (): StepId => {
  const id = location.hash.slice(1)
  return isStep(id) ? id : 'marks'
}

/** The step of the job that is shown; it stands in the address, so that back, forward and reload keep it. */
export const place = createStore<{ readonly step: StepId }>({ step: 'marks' })

export const goTo = (step: StepId): void => {
  if (location.hash !== `#${step}`) location.hash = step
  place.set({ step })
}

export const followAddress = (): void => {
  place.set({ step: fromAddress() })
  addEventListener('hashchange', () => place.set({ step: fromAddress() }))
}
