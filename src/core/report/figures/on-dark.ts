import { palette } from '#core/report/palette'

const swapped: Readonly<Record<string, string>> = { [palette.paper]: palette.darkPaper, [palette.ink]: palette.darkInk, [palette.quiet]: palette.darkQuiet, [palette.grid]: palette.darkGrid }

/**
 * One of our figures on the dark paper: paper, ink and grid change, the colours that carry meaning stand on both.
 * Only whole attributes are looked at; text of the picture stays, for its quotes are escaped.
 */
export const onDark = (svg: string): string => svg.replace(/(?<==")#[0-9a-f]{6}(?=")/g, (colour) => swapped[colour] ?? colour)
