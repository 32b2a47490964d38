import { bench, resultOf } from '#adapters/page/client/app/bench'
import { goTo, place, type StepId, steps } from '#adapters/page/client/app/step'
import { useStore } from '#adapters/page/client/app/store'

const finer = [0, 1, 2, 3]

/** The job as a rule along the edge of the bench: one long tick per step, the steps done filled in. */
export const StepRule = () => {
  const step = useStore(place, (state) => state.step)
  const work = useStore(bench, (state) => state.work)
  const measured = useStore(bench, (state) => resultOf(state) !== null)
  const kept = useStore(bench, ({ project, id }) => id !== null && (project?.evidence.includes(id) ?? false))
  const done: Readonly<Record<StepId, boolean>> = {
    plan: Boolean(work?.setUp['steps-per-rev'] && work.setUp['microsteps']),
    print: false,
    pace: Boolean(work?.pace && work.pace.command > work.pace.commands),
    marks: measured,
    verdict: measured,
    machine: Boolean(work && work.machine.trains.length > 0),
    note: kept,
    compare: false,
  }
  return (
    <nav class="rule" aria-label="Steps of the job">
      <ol>
        {steps.map(({ id, name }) => (
          <li key={id} class={done[id] ? 'done' : ''}>
            <a href={`#${id}`} aria-current={id === step ? 'step' : undefined} onClick={() => goTo(id)}>
              <span class="tick" aria-hidden="true" />
              <span class="step-name">{name}</span>
              {done[id] && <span class="unseen"> (done)</span>}
            </a>
            <span class="finer" aria-hidden="true">{finer.map((n) => <i key={n} />)}</span>
          </li>
        ))}
      </ol>
    </nav>
  )
}
