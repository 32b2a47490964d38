import type { Result } from '#core/report/result-schema'
import { list, section } from './parts.ts'

/** What to mind about this measurement, each with its cure; null when there is nothing. */
export const sectionWarnings = ({ warnings }: Result): string | null => (warnings.length === 0 ? null : section('warnings', 'What to mind, and what would cure it', list(warnings)))
