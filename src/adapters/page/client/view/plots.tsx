import { useEffect, useRef, useState } from 'preact/hooks'
import { useStore } from '#adapters/page/client/app/store'
import { colour, theme } from '#adapters/page/client/app/theme'
import { palette } from '#core/report/palette'
import type { PlotSpec } from '#core/report/plots/plot-spec'

interface Plotly {
  readonly react: (element: HTMLElement, data: unknown, layout: unknown, config: unknown) => Promise<unknown>
  readonly purge: (element: HTMLElement) => void
}

let loading: Promise<Plotly> | null = null

/** The plotting library, fetched when the first plot is wanted and not before. */
const plotly = (): Promise<Plotly> =>
  (loading ??= new Promise((resolve, reject) => {
    const script = document.createElement('script')
    script.src = './plotly.min.js'
    script.onload = () => resolve((globalThis as unknown as { Plotly: Plotly }).Plotly)
    script.onerror = () => reject(new Error('the plots could not be loaded'))
    document.head.append(script)
  }))

const axis = (own: unknown): object => ({ gridcolor: colour('line'), zerolinecolor: colour('line'), linecolor: colour('quiet'), ...(own as object) })

/** What each colour of a plot stands for on the page, which has a lighter one for the dark. */
const standsFor: Readonly<Record<string, string>> = { [palette.moved]: 'info', [palette.merged]: 'open', [palette.reversed]: 'bad', [palette.missing]: 'missing' }

/** The same plot in the page's own colours. */
const inPageColours = (plot: PlotSpec): PlotSpec => JSON.parse(Object.entries(standsFor).reduce((text, [from, to]) => text.replaceAll(from, colour(to)), JSON.stringify(plot))) as PlotSpec

/** Letters small enough for an axis' name to fit on a phone. */
const letters = (width: number): number => (width < 420 ? 11 : 14)

const painted = (layout: PlotSpec['layout'], width: number): object => ({
  ...layout,
  autosize: true,
  // Room for what is written at the right end of a line, in this page's larger letters.
  margin: { ...(layout['margin'] as object), r: ((layout['margin'] as { readonly r?: number } | undefined)?.r ?? 20) + 18 },
  paper_bgcolor: 'rgba(0,0,0,0)',
  plot_bgcolor: 'rgba(0,0,0,0)',
  font: { family: 'system-ui, sans-serif', size: letters(width), color: colour('ink') },
  ...Object.fromEntries(Object.entries(layout).filter(([key]) => /^[xy]axis/.test(key)).map(([key, own]) => [key, axis(own)])),
  ...('polar' in layout ? { polar: { bgcolor: 'rgba(0,0,0,0)', ...(layout['polar'] as object) } } : {}),
})

const Plot = ({ plot }: { readonly plot: PlotSpec }) => {
  const place = useRef<HTMLDivElement>(null)
  const turn = useStore(theme, (state) => state.turn)
  const [wrong, setWrong] = useState('')
  useEffect(() => {
    const element = place.current
    if (!element) return
    let gone = false
    const draw = async (): Promise<void> => {
      const library = await plotly()
      const { data, layout } = inPageColours(plot)
      if (!gone) await library.react(element, [...data], painted(layout, element.clientWidth), { responsive: true, displaylogo: false, displayModeBar: false })
    }
    draw().catch((error: unknown) => setWrong(String((error as Error).message)))
    return () => {
      gone = true
      void loading?.then((library) => library.purge(element))
    }
  }, [plot, turn])
  return (
    <section class="card plot">
      <h2>{plot.title}</h2>
      {wrong ? <p class="wrong">{wrong}</p> : <div ref={place} class="plot-place" role="img" aria-label={plot.title} />}
    </section>
  )
}

export const Plots = ({ plots }: { readonly plots: readonly PlotSpec[] }) => <>{plots.map((plot) => <Plot key={plot.id} plot={plot} />)}</>
