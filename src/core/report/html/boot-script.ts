import { palette } from '#core/report/palette'

/**
 * The page's own script: draws each plot when it comes near the window, in the colours of the chosen scheme, and again
 * when the scheme changes. Written for browsers, run there only.
 */
export const bootScript = `(() => {
  const plots = JSON.parse(document.getElementById('plot-data').textContent)
  const dark = matchMedia('(prefers-color-scheme: dark)')
  const schemes = ${JSON.stringify({
    light: { ink: palette.ink, grid: palette.grid, paper: palette.paper },
    dark: { ink: palette.darkInk, grid: palette.darkGrid, paper: palette.darkPaper },
  })}
  const clothed = (layout) => {
    const { ink, grid, paper } = dark.matches ? schemes.dark : schemes.light
    const axis = (name) => ({ gridcolor: grid, linecolor: ink, zerolinecolor: ink, tickcolor: ink, ...layout[name] })
    return {
      ...layout,
      paper_bgcolor: 'rgba(0,0,0,0)', plot_bgcolor: 'rgba(0,0,0,0)',
      font: { color: ink, family: 'system-ui, sans-serif', size: 13 },
      hoverlabel: { bgcolor: paper, bordercolor: ink, font: { color: ink } },
      modebar: { bgcolor: 'rgba(0,0,0,0)', color: ink, activecolor: ink },
      xaxis: axis('xaxis'), yaxis: axis('yaxis'),
    }
  }
  const config = { responsive: true, displaylogo: false, modeBarButtonsToRemove: ['select2d', 'lasso2d'] }
  const drawn = new Map()
  const draw = (place) => {
    const plot = plots.find(({ id }) => id === place.dataset.plot)
    if (!plot) return
    drawn.set(place, plot)
    place.parentElement.classList.add('drawn')
    Plotly.react(place, plot.data, clothed(plot.layout), config)
  }
  const watch = new IntersectionObserver((seen) => {
    for (const { isIntersecting, target } of seen) if (isIntersecting) { watch.unobserve(target); draw(target) }
  }, { rootMargin: '600px' })
  document.documentElement.classList.add('scripted')
  for (const place of document.querySelectorAll('[data-plot]')) watch.observe(place)
  dark.addEventListener('change', () => { for (const [place, plot] of drawn) Plotly.react(place, plot.data, clothed(plot.layout), config) })
})()`
