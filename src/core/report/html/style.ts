import { palette } from '#core/report/palette'

/** The report's style sheet: one column, light or dark as the reader prefers, plain on paper. */
export const style = `
:root { color-scheme: light dark; --paper: ${palette.paper}; --ink: ${palette.ink}; --quiet: ${palette.quiet}; --rule: #cdd4d9; --tint: #f3f6f8; --held: #20689b; --open: #9c3a74; }
@media (prefers-color-scheme: dark) { :root { --paper: ${palette.darkPaper}; --ink: ${palette.darkInk}; --quiet: ${palette.darkQuiet}; --rule: #3d4851; --tint: #1f262c; --held: #7fbbe6; --open: #ea9fcb; } }
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 1rem/1.55 system-ui, 'DejaVu Sans', sans-serif; }
main { max-width: 62rem; margin: 0 auto; padding: 2rem 1.25rem 4rem; }
h1 { font-size: 2rem; line-height: 1.2; margin: .2rem 0 .6rem; }
h2 { font-size: 1.3rem; margin: 3rem 0 .6rem; padding-top: .8rem; border-top: 1px solid var(--rule); }
h3 { font-size: 1.05rem; margin: 0 0 .3rem; }
p { max-width: 46rem; margin: .5rem 0; overflow-wrap: anywhere; }
.verdict { border-left: .4rem solid var(--held); padding: .2rem 0 .2rem 1.1rem; }
.verdict.open { border-left-color: var(--open); }
.verdict h1 { color: var(--held); }
.verdict.open h1 { color: var(--open); }
.motor { font-weight: 600; margin: 0; }
.why { font-size: 1.12rem; }
.quiet, figcaption, caption { color: var(--quiet); font-size: .92rem; }
nav ul { display: flex; flex-wrap: wrap; gap: .2rem 1.1rem; list-style: none; margin: 1.6rem 0 0; padding: 0; }
a { color: var(--held); }
nav li { margin: 0; }
nav a { display: inline-block; padding: .2rem 0; }
:focus-visible { outline: 3px solid var(--held); outline-offset: 2px; }
.table { overflow-x: auto; margin: 1rem 0; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
caption { text-align: left; padding-bottom: .4rem; }
th, td { text-align: left; vertical-align: top; padding: .42rem .8rem .42rem 0; border-bottom: 1px solid var(--rule); }
thead th { font-size: .88rem; color: var(--quiet); font-weight: 600; }
tbody th { font-weight: 600; }
th.number { white-space: nowrap; }
#modes td:nth-child(2) { font-weight: 600; }
.remark { display: block; font-weight: 400; font-size: .9rem; color: var(--quiet); max-width: 34rem; }
#figures td { font-size: 1.08rem; }
tr.sum th, tr.sum td { background: var(--tint); }
#reproduce td { overflow-wrap: anywhere; font-family: ui-monospace, 'DejaVu Sans Mono', monospace; font-size: .9rem; }
figure { margin: 1.6rem 0 2.4rem; }
figcaption { margin-top: .5rem; max-width: 46rem; }
figure img, .still svg { width: 100%; height: auto; display: block; }
.plot h3 { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
.scripted .plot h3 { position: static; width: auto; height: auto; clip-path: none; }
.still { background: #fff; border-radius: .4rem; overflow: hidden; }
.live { display: none; }
.scripted .live { display: block; }
.scripted .still { display: none; }
.live-only { display: none; }
.scripted .live-only { display: block; }
section li { margin: .4rem 0; max-width: 46rem; }
dt { font-weight: 600; margin-top: .9rem; }
dd { margin: .1rem 0 0; max-width: 46rem; }
footer { margin-top: 3rem; color: var(--quiet); font-size: .9rem; }
@media (max-width: 40rem) { main { padding: 1.2rem .9rem 3rem; } h1 { font-size: 1.55rem; } th, td { padding-right: .6rem; } th.number { white-space: normal; } }
@media print {
  :root { --paper: #fff; --ink: #111; --quiet: #444; --rule: #bbb; --tint: #f2f2f2; --held: #20689b; --open: #9c3a74; color-scheme: light; }
  main { max-width: none; padding: 0; }
  nav, .live, .scripted .live, .live-only, .scripted .live-only { display: none; }
  .still, .scripted .still { display: block; }
  .scripted .plot h3 { position: absolute; width: 1px; height: 1px; clip-path: inset(50%); }
  .table { overflow: visible; }
  figure, tr, .verdict { break-inside: avoid; }
  h2, h3 { break-after: avoid; }
  body { font-size: 10pt; }
}`
