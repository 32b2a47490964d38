const breaking = '\\u0000-\\u001f\\u007f-\\u009f\\u2028\\u2029'
const misleading = '\\u061c\\u200e\\u200f\\u202a-\\u202e\\u2066-\\u2069\\ufeff\\u{e0000}-\\u{e007f}'

const controls = new RegExp(`[${breaking}${misleading}]`, 'gu')
const controlsOfText = new RegExp(`(?![\\n\\t])[${breaking}${misleading}]`, 'gu')

/**
 * Text from outside on one line: no control, escape, direction-changing or invisible tag characters (Unicode: Cc, Zl, Zp,
 * Bidi_Control, tags), runs of blanks made one.
 */
export const oneLine = (text: string): string => text.replace(controls, ' ').replace(/\s+/g, ' ').trim()

/** The same for text of several lines: line ends and tabs stay, every other such character becomes a blank. */
export const plainLines = (text: string): string => text.replace(controlsOfText, ' ')

/** JSON in which such characters stand as \u escapes: nothing lost, nothing that a terminal or editor would act on. */
export const plainJson = (value: unknown, indent?: number): string =>
  JSON.stringify(value, null, indent).replace(controlsOfText, (sign) => [...Array(sign.length).keys()].map((i) => `\\u${sign.charCodeAt(i).toString(16).padStart(4, '0')}`).join(''))
