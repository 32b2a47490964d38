/**
 * Our own colours. Every one that carries meaning stands at 3 : 1 or better against both papers, light and dark
 * (WCAG 2.2, 1.4.11); none carries meaning alone, a shape and a word go with it.
 */
export const palette = {
  paper: '#ffffff',
  darkPaper: '#161b20',
  ink: '#20282e',
  darkInk: '#e6eaed',
  quiet: '#5c666e',
  darkQuiet: '#a9b4bc',
  grid: '#e3e7ea',
  darkGrid: '#313a42',
  nominal: '#7d878f',
  moved: '#2f7fb6',
  merged: '#b9731b',
  reversed: '#bf4a8f',
  missing: '#7a6bb8',
  band: '#2f7fb6',
  limit: '#6f7a82',
} as const
