/** Text made safe between tags and in attribute values; characters XML 1.0 forbids are dropped. */
export const escapeXml = (text: string): string =>
  text
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, '')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;')
    .replace(/'/g, '&#39;')

export type Attributes = Readonly<Record<string, string | number | undefined>>

/** A length or coordinate with at most two decimals. */
export const px = (value: number): string => String(Math.round(value * 100) / 100)

const attributeText = (attributes: Attributes): string =>
  Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => ` ${name}="${typeof value === 'number' ? px(value) : escapeXml(value ?? '')}"`)
    .join('')

/** One element; children are SVG already. */
export const element = (name: string, attributes: Attributes, children = ''): string =>
  children === '' ? `<${name}${attributeText(attributes)}/>` : `<${name}${attributeText(attributes)}>${children}</${name}>`

export const path = (d: string, attributes: Attributes): string => (d === '' ? '' : element('path', { d, fill: 'none', ...attributes }))

export interface TextOptions {
  readonly anchor?: 'start' | 'middle' | 'end'
  readonly size?: number
  readonly fill?: string
  readonly bold?: boolean
  /** deg, clockwise as SVG counts. */
  readonly turn?: number
}

/** A line of text at its baseline. */
export const words = (text: string, x: number, y: number, { anchor, size = 13, fill = '#20282e', bold = false, turn }: TextOptions = {}): string =>
  element(
    'text',
    { x, y, 'text-anchor': anchor, 'font-size': size, fill, 'font-weight': bold ? 'bold' : undefined, transform: turn === undefined ? undefined : `rotate(${turn} ${px(x)} ${px(y)})` },
    escapeXml(text),
  )

/** A whole picture on white paper, its title readable by machines too. */
export const svgDocument = ({ width, height, title }: { readonly width: number; readonly height: number; readonly title: string }, body: string): string =>
  element(
    'svg',
    { xmlns: 'http://www.w3.org/2000/svg', viewBox: `0 0 ${width} ${height}`, width, height, role: 'img', 'font-family': "'DejaVu Sans', sans-serif" },
    `<title>${escapeXml(title)}</title>${element('rect', { width, height, fill: '#ffffff' })}${body}`,
  )
