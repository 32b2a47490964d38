import { escapeXml } from '#core/report/figures/svg'

/** Text from people or files, safe between tags and in quoted attribute values. */
export const escapeHtml = (text: string): string => escapeXml(text)

/** Data for a script element of type application/json: nothing in it can end the element or start a comment. */
export const embeddedJson = (value: unknown): string =>
  JSON.stringify(value).replace(/</g, '\\u003c').replace(/>/g, '\\u003e').replace(/&/g, '\\u0026').replace(/\u2028/g, '\\u2028').replace(/\u2029/g, '\\u2029')
