import { cautionsFor } from '#core/prepare/cautions'
import type { Result } from '#core/report/result-schema'
import { escapeHtml } from './escape.ts'
import { section } from './parts.ts'

/** Where the work can hurt someone. */
export const sectionCautions = ({ settings }: Result): string => {
  const rig = settings.rig === 'pointer' || settings.rig === 'mirror' ? settings.rig : 'any'
  const items = cautionsFor(rig).map(({ title, text }) => `<dt>${escapeHtml(title)}</dt><dd>${escapeHtml(text)}</dd>`)
  return section('cautions', 'Before the next test', `<dl>${items.join('')}</dl>`)
}
