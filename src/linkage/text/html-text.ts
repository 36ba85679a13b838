const named: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  apos: "'",
  nbsp: '\u00a0',
  deg: '°',
  times: '×',
  ndash: '–',
  mdash: '—',
  bull: '•',
  le: '≤',
  ge: '≥',
  rsquo: '’',
}
const unseen = ['script', 'style', 'head', 'title']
const breaking =
  /^\/?(?:address|article|blockquote|br|caption|dd|div|dl|dt|footer|h[1-6]|header|hr|li|ol|p|pre|section|table|tbody|tfoot|thead|tr|ul)$/

/** @returns the text with its character references read; an unknown one stays as it is */
export function decodeEntities(text: string): string {
  return text.replace(/&(?:#(\d{1,7})|#x([0-9a-f]{1,6})|([a-z]{2,8}));/gi, (whole, decimal, hexadecimal, name) => {
    if (name !== undefined) return named[String(name).toLowerCase()] ?? whole
    const point = decimal === undefined ? Number.parseInt(hexadecimal, 16) : Number(decimal)
    return point > 0 && point <= 0x10ffff && !(point >= 0xd800 && point <= 0xdfff) ? String.fromCodePoint(point) : whole
  })
}

/**
 * The words of an HTML text: tags, comments and what a reader does not see are left out, and a block ends a line. A `<` that begins
 * no tag ("<5 mm") is text. Each character is looked at a bounded number of times, whatever the text.
 */
export function htmlText(html: string): string {
  const parts: string[] = []
  // Only ASCII letters, so that places in both are the same.
  const lower = html.replace(/[A-Z]+/g, (letters) => letters.toLowerCase())
  let at = 0
  while (at < html.length) {
    const open = html.indexOf('<', at)
    if (open < 0) break
    parts.push(html.slice(at, open))
    if (html.startsWith('<!--', open)) {
      const end = html.indexOf('-->', open + 4)
      at = end < 0 ? html.length : end + 3
      continue
    }
    if (!/^[a-z/!?]$/.test(lower[open + 1] ?? '')) {
      parts.push('<')
      at = open + 1
      continue
    }
    const close = html.indexOf('>', open)
    // Without an end it is no tag, and neither is anything after it.
    if (close < 0) {
      at = open
      break
    }
    const name = /^\/?[a-z][a-z0-9]{0,12}/.exec(lower.slice(open + 1, Math.min(close, open + 16)))?.[0] ?? ''
    parts.push(breaking.test(name) ? '\n' : /^\/?t[dh]$/.test(name) ? ' ' : '')
    at = close + 1
    if (unseen.includes(name)) {
      const end = lower.indexOf(`</${name}`, at)
      at = end < 0 ? html.length : end
    }
  }
  parts.push(html.slice(at))
  return decodeEntities(parts.join(''))
}
