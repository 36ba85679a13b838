/** Elements of R4's narrative rules (txt-1) that our narratives use. Source: FHIR R4 (4.0.1), Narrative. */
const allowed = new Set(['div', 'h1', 'p', 'ul', 'li', 'table', 'thead', 'tbody', 'tr', 'th', 'td'])

/** Faults against XML well-formedness and the narrative rules; the only attribute allowed is the namespace of the root. */
export function xhtmlFaults(text: string): string[] {
  const faults: string[] = []
  const open: string[] = []
  const tokens = text.match(/<[^>]*>|[^<]+|</g) ?? []
  for (const [index, token] of tokens.entries()) {
    if (!token.startsWith('<')) {
      if (/&(?!(amp|lt|gt|quot|apos);)/.test(token) || token.includes('>')) faults.push(`unescaped text: ${token}`)
      // XML 1.0, production 2 (Char).
      if (/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/u.test(token)) faults.push('a character XML has not')
      if (open.length === 0) faults.push(`text outside the root: ${token}`)
      continue
    }
    const [, slash, name = '', attributes = ''] = /^<(\/?)([a-z0-9]+)([^>]*)>$/.exec(token) ?? []
    if (!allowed.has(name)) faults.push(`not allowed: ${token}`)
    if (attributes !== (index === 0 ? ' xmlns="http://www.w3.org/1999/xhtml"' : '')) faults.push(`attributes: ${token}`)
    if (slash === '') open.push(name)
    else if (open.pop() !== name) faults.push(`closes what is not open: ${token}`)
  }
  return open.length === 0 ? faults : [...faults, `never closed: ${open.join()}`]
}
