import { useRef, useState } from 'preact/hooks'
import { bench, patch } from '#adapters/page/client/app/bench'
import { pasted } from '#adapters/page/client/app/pasted'
import { useStore } from '#adapters/page/client/app/store'
import { SureButton } from './sure-button.tsx'
import { Wrong } from './wrong.tsx'
import { isUnmeasurable, type Unmeasurable } from '#core/quantity/unmeasurable'
import { gridColumns } from '#core/review/work'

type Rows = readonly (readonly string[])[]

const shown = 60
const labels = { position: 'position', command: 'command', tally: 'tally', pass: 'pass', direction: 'direction', note: 'note' } as const

const withCell = (rows: Rows, [row, column]: readonly [number, number], text: string): Rows => {
  const grown = [...rows, ...Array.from({ length: Math.max(0, row + 1 - rows.length) }, () => [] as readonly string[])]
  return grown.with(row, gridColumns.map((_, i) => (i === column ? text : (grown[row]?.[i] ?? ''))))
}

/** Row of the grid that a refusal is about, 0 = first. */
const rowOf = (why: Unmeasurable | null): number | null => {
  const match = /^Row (\d+)/.exec(why?.where ?? '')
  return match ? Number(match[1]) - 1 : null
}

const focusCell = (row: number, column: number): void => document.getElementById(`cell-${row}-${column}`)?.focus()

/** The typing grid: one line per mark, checked while it is typed. */
export const TypingGrid = () => {
  const rows = useStore(bench, (state) => state.work?.rows ?? [])
  const outcome = useStore(bench, (state) => state.outcome)
  const [from, setFrom] = useState(0)
  const grid = useRef<HTMLTableElement>(null)
  const wrong = outcome && isUnmeasurable(outcome) ? outcome : null
  const wrongRow = rowOf(wrong)
  const count = Math.max(12, rows.length + 3)
  const first = Math.min(from, Math.max(0, count - shown))
  const visible = Array.from({ length: Math.min(shown, count - first) }, (_, i) => first + i)

  const set = (row: number, column: number, text: string): void => patch({ rows: withCell(rows, [row, column], text), source: 'typed' })
  const onPaste = (row: number, column: number) => (event: ClipboardEvent): void => {
    const text = event.clipboardData?.getData('text/plain') ?? ''
    if (!/[\n\t;]/.test(text.trim())) return
    event.preventDefault()
    const next = pasted(rows, [row, column], text)
    patch({ rows: next.rows, source: 'typed', setUp: { ...bench.get().work?.setUp, ...next.setUp } })
  }
  const onKey = (row: number, column: number) => (event: KeyboardEvent): void => {
    const down = event.key === 'Enter' || event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0
    if (down === 0) return
    event.preventDefault()
    if (row + down < first) setFrom(Math.max(0, first - shown / 2))
    if (row + down >= first + shown) setFrom(first + shown / 2)
    requestAnimationFrame(() => focusCell(row + down, column))
  }
  const typedRows = rows.filter((row) => row.some((cell) => cell !== '')).length

  return (
    <section class="card typing" aria-label="Positions">
      {wrong && typedRows > 0 && <Wrong why={wrong} />}
      <div class="grid-scroll" tabIndex={-1}>
        <table ref={grid} class="grid">
          <thead><tr><th scope="col">mark</th>{gridColumns.map((name) => <th key={name} scope="col">{labels[name]}</th>)}</tr></thead>
          <tbody>
            {visible.map((row) => (
              <tr key={row} class={row === wrongRow ? 'wrong-row' : ''}>
                <th scope="row">{row + 1}{row === wrongRow && <span class="unseen"> cannot be read</span>}</th>
                {gridColumns.map((name, column) => (
                  <td key={name}>
                    <input
                      id={`cell-${row}-${column}`} aria-label={`${labels[name]}, mark ${row + 1}`} value={rows[row]?.[column] ?? ''} inputMode={column < 4 ? 'decimal' : undefined} autocomplete="off"
                      onInput={({ currentTarget }) => set(row, column, currentTarget.value)} onPaste={onPaste(row, column)} onKeyDown={onKey(row, column)}
                    />
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <div class="buttons">
        {count > shown && <button type="button" disabled={first === 0} onClick={() => setFrom(Math.max(0, first - shown))}>Rows before</button>}
        {count > shown && <button type="button" disabled={first + shown >= count} onClick={() => setFrom(first + shown)}>Rows after</button>}
        <span class="hint">{typedRows === 1 ? '1 mark' : `${typedRows} marks`}. One row for each mark, in the order made. A column, a table from a spreadsheet or a whole trace file can be pasted.</span>
        <span class="gap" />
        <SureButton label="Empty the grid" sure="Really lose what is typed?" disabled={rows.length === 0} act={() => patch({ rows: [] })} />
      </div>
    </section>
  )
}
