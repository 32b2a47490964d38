const voidElements = ['meta', 'img', 'br', 'link']

/**
 * Tags left open or closed out of turn, attributes without quotes, stray < or & in text: the first one found, or null.
 * @param html void elements of HTML may stand open
 */
export const notWellFormed = (markup: string, { html = false }: { readonly html?: boolean } = {}): string | null => {
  const open: string[] = []
  const opaque = html ? markup.replace(/<!doctype html>/i, '').replace(/(<(script|style)\b[^>]*>)[\s\S]*?(<\/\2>)/g, '$1$3') : markup
  const rest = opaque.replace(/<(\/?)([a-zA-Z][\w-]*)((?:\s+[\w:-]+="[^"<]*")*)\s*(\/?)>/g, (tag, closing: string, name: string, _attributes: string, empty: string) => {
    if (closing) return open.pop() === name ? '' : `<misplaced ${tag}`
    if (!empty && !(html && voidElements.includes(name))) open.push(name)
    return ''
  })
  const stray = /[<]|&(?!(?:amp|lt|gt|quot|#39);)/.exec(rest)
  if (stray) return rest.slice(Math.max(0, stray.index - 40), stray.index + 80)
  return open.length > 0 ? `never closed: ${open.join(' ')}` : null
}
