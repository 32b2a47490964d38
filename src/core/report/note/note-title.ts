import type { Result } from '#core/report/result-schema'
import { markdownText } from './markdown-text.ts'

/** Heading of a note that stands by itself. */
export const noteTitle = ({ motor }: Result): string => `# ${markdownText(motor.name)}`
