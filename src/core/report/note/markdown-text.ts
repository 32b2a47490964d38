import { oneLine } from '#core/quantity/one-line'

/**
 * Text from outside as words in Markdown, never as markup: HTML, emphasis, code, links, autolinks, mentions, table bars and
 * comment ends come out as the characters they are.
 */
export const markdownText = (text: string): string =>
  oneLine(text)
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/[\\`*_[\]|~#$]/g, '\\$&')
    .replace(/:\/\//g, '&#58;//')
    .replace(/@/g, '&#64;')
    .replace(/\bwww\./gi, (www) => `${www.slice(0, 3)}&#46;`)
    .replace(/--/g, '-&#45;')

/** A table row; cells are Markdown already. */
export const tableRow = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`
