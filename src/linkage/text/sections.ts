/** What a section of a report is for; only some are read for diagnoses. */
export type SectionKind =
  | 'preamble'
  | 'diagnosis'
  | 'amendment'
  | 'addendum'
  | 'microscopy'
  | 'comment'
  | 'specimens'
  | 'aside'

export interface Section {
  readonly kind: SectionKind
  readonly text: string
}

const kinds: readonly (readonly [SectionKind, string])[] = [
  // What was known or done before the pathologist looked, and what follows from it, is never a diagnosis of this tissue.
  [
    'aside',
    [
      '(?:(?:relevant|pertinent|brief|past|personal|family|social|previous|prior|medical|surgical|clinical|patient) ){0,3}(?:history|hx)',
      'clinical(?: (?:details?|information|data|diagnos[ie]s|impression|findings?|summary|notes?|indications?|question))?',
      'indications?(?: for [a-z]{4,20})?',
      'reason for [a-z]{4,20}',
      '(?:pre|post)[- ]?(?:op(?:erative)?|procedur(?:e|al)|endoscopy) (?:diagnos[ie]s|findings?|impression)',
      'operative (?:diagnos[ie]s|findings?|procedure)',
      "(?:endoscop(?:y|ic|ist's)|colonoscop(?:y|ic)) (?:findings?|impression|diagnos[ie]s|appearances?|report)",
      'procedures?(?: performed)?',
      'macroscop(?:y|ic|ical)(?: (?:description|examination|appearances?|findings?))?',
      'gross(?: (?:description|examination|appearances?|findings?))?',
      '(?:previous|prior) (?:pathology|histology|biops(?:y|ies)|reports?|specimens?)',
      '(?:intra-?operative|frozen section) (?:consultation|diagnos[ie]s)',
      'frozen section|plan|assessment and plan|recommendations?|disclaimer|references?|(?:snomed )?codes?',
    ].join('|'),
  ],
  [
    'amendment',
    '(?:amended|corrected|revised|updated)(?: (?:final|pathologic(?:al)?|pathology))? (?:diagnos[ie]s|report)',
  ],
  ['addendum', '(?:addend(?:um|a)|supplement(?:al|ary))(?: (?:diagnos[ie]s|report|comment))?(?: \\d{1,2})?'],
  [
    'diagnosis',
    '(?:(?:final|principal|surgical|tissue|anatomic(?:al)?|patholog(?:y|ic|ical)|histolog(?:y|ic|ical)|histopatholog(?:y|ic|ical)|microscopic|definitive) ){0,4}(?:diagnos[ie]s|conclusions?|interpretation|summary|opinion|results?|impression)',
  ],
  [
    'microscopy',
    'microscop(?:y|ic|ical)(?: (?:description|examination|findings?|appearances?))?|histolog(?:y|ical)(?: (?:description|findings?))?|histopathology|pathology|findings',
  ],
  ['comment', '(?:diagnostic )?(?:comments?|notes?)|remarks?|discussion'],
  [
    'specimens',
    '(?:nature of )?(?:specimens?|tissues?)(?:\\(s\\))?(?: (?:submitted|received|types?|sources?|description|sites?))?|(?:sources?|sites?) of (?:specimens?|tissues?)',
  ],
]

// A kind is one group of the pattern; a heading starts a line or follows a sentence, and ends in a colon, a dash or the line's end.
const heading = new RegExp(
  `(?<=^|\\n|[.;:] ?)(?:- ?)?(?:${kinds.map(([, words]) => `(${words})`).join('|')}) ?(:|-|(?=\\n|$))`,
  'g',
)

/**
 * A tidied report in its sections. A text without headings is one `preamble`.
 * A comment between two labelled diagnoses ends where the next label begins.
 */
export function sectionsOf(text: string): Section[] {
  const found: { kind: SectionKind; from: number; to: number }[] = []
  for (const match of text.matchAll(heading)) {
    const startsLine = match.index === 0 || text[match.index - 1] === '\n'
    // Within a line only a colon tells a heading from the word in a sentence.
    if (!startsLine && match.at(-1) !== ':') continue
    const group = match.slice(1, -1).findIndex((one) => one !== undefined)
    found.push({ kind: kinds[group]?.[0] ?? 'aside', from: match.index, to: match.index + match[0].length })
  }
  const sections: Section[] = [{ kind: 'preamble', text: text.slice(0, found[0]?.from ?? text.length).trim() }]
  for (const [index, { kind, to }] of found.entries()) {
    const body = text.slice(to, found[index + 1]?.from ?? text.length).trim()
    const before = sections.at(-1)
    const label = kind === 'comment' && isRead(before?.kind) ? body.search(/\n(?:[a-z]|\d{1,2})[.):] /) : -1
    if (before === undefined || label < 0) sections.push({ kind, text: body })
    else sections.push({ kind, text: body.slice(0, label) }, { kind: before.kind, text: body.slice(label).trim() })
  }
  return sections.filter((section) => section.text !== '')
}

function isRead(kind: SectionKind | undefined): boolean {
  return kind === 'diagnosis' || kind === 'amendment' || kind === 'preamble'
}
