import { render } from 'preact'
import { App } from './view/app.tsx'
import { start } from './app/bench.ts'
import { followAddress } from './app/step.ts'
import { startTheme } from './app/theme.ts'
import { takeKeyFromLink } from './backend/bench-key.ts'
import { chosenBackend } from './backend/chosen-backend.ts'
import './style/base.css'
import './style/frame.css'
import './style/parts.css'
import './style/marks.css'
import './style/steps.css'
import './style/print.css'

takeKeyFromLink()
startTheme()
followAddress()
const root = document.getElementById('bench')
if (root) {
  root.replaceChildren()
  render(<App />, root)
}
await start(await chosenBackend())
