/** Part of a section that tells of one specimen, or of several told of together. */
export interface SpecimenPart {
  /** Labels as in the text, upper case; none where the section labels nothing. */
  readonly labels: readonly string[]
  readonly text: string
}

const word = '(?:specimens?|parts?|jars?|pots?|containers?)'
const one = '(?:[a-z]|\\d{1,2})'
const list = `${one}(?: ?(?:,|/|&|-|,? and|to) ?${one}(?![a-z0-9])){0,11}`
const labelled = new RegExp(
  `(?:^|(?<=\\n|[.;:] ))(?:- ?)?(?:${word} ?(${list})(?: ?[.):-] ?|(?=\\n)| (?=-)| (?=(?:is|are|shows?|consists?|contains?|comprises?|has|have|was|were)\\b))|(?:\\((?=[a-z]))?(${list}) ?[.):](?= |\\n))`,
  'g',
)

/**
 * A section by the specimens that it labels ("A.", "2)", "Part B:", "B & C)"). The first label fixes the kind, letters or numbers;
 * labels of the other kind, or out of order, are the text's own lists.
 */
export function specimenParts(text: string): SpecimenPart[] {
  const starts: { labels: readonly string[]; from: number; to: number }[] = []
  let last = -1
  let kind: 'letter' | 'number' | undefined
  for (const match of text.matchAll(labelled)) {
    const labels = labelsOf(match[1] ?? match[2] ?? '')
    const first = labels[0] ?? ''
    const own = /\d/.test(first) ? 'number' : 'letter'
    if (labels.length === 0 || (kind !== undefined && own !== kind) || orderOf(first) <= last) continue
    kind = own
    last = orderOf(labels.at(-1) ?? first)
    starts.push({ labels, from: match.index, to: match.index + match[0].length })
  }
  const parts: SpecimenPart[] = [{ labels: [], text: text.slice(0, starts[0]?.from ?? text.length).trim() }]
  for (const [index, { labels, to }] of starts.entries())
    parts.push({ labels, text: text.slice(to, starts[index + 1]?.from ?? text.length).trim() })
  return parts.filter((part) => part.text !== '')
}

/** Labels of a list, ranges filled in; none where the list mixes letters with numbers. */
function labelsOf(said: string): string[] {
  const names = said.match(/\b(?:[a-z]|\d{1,2})\b/g) ?? []
  const range = /^([a-z]|\d{1,2}) ?(?:-|to) ?([a-z]|\d{1,2})$/.exec(said)
  if (range) return filled(range[1] ?? '', range[2] ?? '')
  const isNumber = /^\d/.test(said)
  return names.every((name) => /\d/.test(name) === isNumber) ? names.map((name) => name.toUpperCase()) : []
}

function filled(from: string, to: string): string[] {
  const isNumber = /\d/.test(from)
  if (isNumber !== /\d/.test(to)) return []
  const names: string[] = []
  for (let order = orderOf(from); order <= orderOf(to) && names.length < 26; order++)
    names.push(isNumber ? String(order) : String.fromCharCode(64 + order))
  return names
}

function orderOf(label: string): number {
  return /\d/.test(label) ? Number(label) : label.toUpperCase().charCodeAt(0) - 64
}
