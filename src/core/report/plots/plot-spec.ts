/** A plot as plain data for plotly: traces and layout without colours of paper and ink, which the page sets. */
export interface PlotSpec {
  readonly id: string
  readonly title: string
  readonly data: readonly Readonly<Record<string, unknown>>[]
  readonly layout: Readonly<Record<string, unknown>>
}

/** Short enough to keep the page small, long enough that nothing shows: six significant digits. */
export const short = (value: number | null | undefined): number | null => (value === null || value === undefined || !Number.isFinite(value) ? null : Number(value.toPrecision(6)))

const legend = { orientation: 'h', x: 0, y: 1.02, yanchor: 'bottom' }

/** Layout every plot shares: room for labels, legend above, a height in px. */
export const layoutOf = (x: Readonly<Record<string, unknown>>, y: Readonly<Record<string, unknown>>, more: Readonly<Record<string, unknown>> = {}): PlotSpec['layout'] => ({
  margin: { l: 64, r: 16, t: 40, b: 56 },
  height: 400,
  hovermode: 'closest',
  legend,
  xaxis: { zeroline: false, automargin: true, ...x },
  yaxis: { zeroline: false, automargin: true, ...y },
  ...more,
})

export const titled = (text: string): { readonly title: { readonly text: string; readonly standoff: number } } => ({ title: { text, standoff: 12 } })
