import { modeName } from '#core/decide/recommend'
import { intervalText } from '#core/report/number-text'
import type { Result } from '#core/report/result-schema'

export const verdictSigns = { holds: '●', fails: '✕', 'not proven': '◐' } as const

/** Every step mode with its verdict: sign, word and reason. */
export const ModesTable = ({ modes }: { readonly modes: Result['modes'] }) => (
  <table class="table modes-table">
    <thead><tr><th scope="col">Mode</th><th scope="col">Verdict</th><th scope="col">Worst increment</th><th scope="col">Why</th></tr></thead>
    <tbody>
      {modes.map(({ microsteps, verdict, worstIncrement, why }) => (
        <tr key={microsteps} class={`mode-${verdict.replace(' ', '-')}`}>
          <th scope="row">{modeName(microsteps)}</th>
          <td class="mode-verdict"><span aria-hidden="true">{verdictSigns[verdict]}</span> {verdict}</td>
          <td class="num">{worstIncrement ? intervalText(worstIncrement) : '–'}</td>
          <td>{why}</td>
        </tr>
      ))}
    </tbody>
  </table>
)
