import { type Heading, partHeading, readHeading } from './headings.ts'
import { readStatement } from './read-statement.ts'
import type { Said } from './said.ts'
import { type Section, type SectionKind, sectionsOf } from './sections.ts'
import { addLater, addSaid, finished, isUncounted } from './specimen-findings.ts'
import { specimenParts } from './specimens.ts'
import { statementsOf } from './statements.ts'
import type { HistologyClass, OpenInText, TextFinding, TextFindings } from './text-findings.ts'
import { tidyText } from './tidy-text.ts'

/** What a part says: its diagnoses, and whether it says that there is no adenoma or dysplasia. */
interface PartReading {
  readonly labels: readonly string[]
  readonly findings: readonly TextFinding[]
  readonly excludes: boolean
  /** Lesions that it doubts. */
  readonly doubted: readonly HistologyClass[]
  /** It is of another organ. */
  readonly isElsewhere: boolean
  /** It names diagnoses, and only to deny them. */
  readonly onlyDenies: boolean
  readonly isUncounted: boolean
}

/** Sections that carry diagnoses, the strongest first; the next are read only where these say nothing. */
const tiers: readonly (readonly SectionKind[])[] = [
  ['diagnosis', 'amendment', 'addendum'],
  ['preamble', 'microscopy'],
  ['comment'],
]

/**
 * Bowel diagnoses that a pathology report in English states as present.
 *
 * Read are the sections of diagnosis; where they say nothing, the text without a heading and the microscopy, then the comment. Clinical
 * history, indication, gross description and the like are never read for diagnoses. Denied, doubtful, planned and earlier findings, those
 * of relatives, and those of other organs are left out. Never throws; the cost grows with the length of the text, of which no more than
 * `longestRead` characters are read (`cut` tells so).
 */
export function readPathologyText(text: string): TextFindings {
  const tidy = tidyText(text)
  const sections = sectionsOf(tidy.text)
  const sent = labelledHeadings(sections)
  let findings: readonly TextFinding[] = []
  let excludes = false
  let readings: readonly PartReading[] = []
  for (const tier of tiers) {
    readings = merged(
      sections
        .filter(({ kind }) => tier.includes(kind))
        .map((section) => ({ kind: section.kind, parts: partsOf(section, sent) })),
    )
    findings = readings.flatMap((one) => one.findings)
    excludes = readings.some((one) => one.excludes)
    if (findings.length > 0 || excludes) break
  }
  const unread = findings.length === 0 && !excludes
  const open = unread ? undefined : openIn(readings)
  return { findings, unread, ...(tidy.cut ? { cut: true as const } : {}), ...(open === undefined ? {} : { open }) }
}

/** What the parts leave open; undefined where that is nothing. */
function openIn(parts: readonly PartReading[]): OpenInText | undefined {
  const isRead = new Map<string, boolean>()
  const elsewhere = new Set<string>()
  for (const { labels, findings, excludes, isElsewhere, onlyDenies } of parts)
    for (const label of labels) {
      const says = findings.length > 0 || excludes
      // "2. No evidence of malignancy" is an item of the text's own list, and no second specimen.
      if (!says && onlyDenies && /\d/.test(label)) continue
      isRead.set(label, isRead.get(label) === true || says)
      if (isElsewhere && !says) elsewhere.add(label)
    }
  const unreadLabels = [...isRead].filter(([label, says]) => !says && !elsewhere.has(label))
  const open: OpenInText = {
    labels: isRead.size,
    unreadLabels: unreadLabels.length,
    labelsElsewhere: [...elsewhere].filter((label) => isRead.get(label) === false).length,
    // What a label only doubts is counted with the label.
    doubted: parts.filter(({ labels, findings, excludes, doubted }) => {
      const isCounted = labels.length > 0 && findings.length === 0 && !excludes
      return (
        !isCounted && doubted.some((one) => one !== 'other' && !findings.some(({ histology }) => histology === one))
      )
    }).length,
    isUncounted: parts.some((one) => one.isUncounted),
  }
  return open.labels + open.doubted > 0 || open.isUncounted ? open : undefined
}

/** What the list of specimens says of each label. */
function labelledHeadings(sections: readonly Section[]): Map<string, Heading> {
  const sent = new Map<string, Heading>()
  for (const { kind, text } of sections)
    if (kind === 'specimens')
      for (const part of specimenParts(text)) for (const label of part.labels) sent.set(label, readHeading(part.text))
  return sent
}

function partsOf({ text }: Section, sent: ReadonlyMap<string, Heading>): PartReading[] {
  return specimenParts(text).map(({ labels, text: part }) => {
    const before = labels.length === 1 ? sent.get(labels[0] ?? '') : undefined
    return readPart(labels, part, before ?? {})
  })
}

/**
 * Parts of several sections as one: an amendment takes the place of what was said of its labels (of everything, where it has none); a later
 * section adds only diagnoses that the same specimen did not have yet.
 */
function merged(sections: readonly { kind: SectionKind; parts: readonly PartReading[] }[]): PartReading[] {
  const amended = sections.filter(({ kind }) => kind === 'amendment').flatMap(({ parts }) => parts)
  const isAmended = ({ labels }: PartReading) =>
    amended.some((one) => one.labels.length === 0 || one.labels.some((label) => labels.includes(label)))
  const readings: PartReading[] = amended.slice()
  for (const { kind, parts } of sections) {
    if (kind === 'amendment') continue
    const earlier = readings.slice()
    for (const part of parts) {
      if (isAmended(part)) continue
      const known = new Set(
        earlier
          .filter(({ labels }) => labels.join() === part.labels.join())
          .flatMap((one) => one.findings.map(({ histology }) => histology)),
      )
      readings.push({ ...part, findings: part.findings.filter(({ histology }) => !known.has(histology)) })
    }
  }
  return readings
}

/** @param sent what the list of specimens says of it; the part's own heading goes before that */
function readPart(labels: readonly string[], text: string, sent: Heading): PartReading {
  const findings: TextFinding[] = []
  const doubted: HistologyClass[] = []
  let excludes = false
  let isElsewhere = false
  let isPlural = false
  let onlyDenies = false
  let states = false
  let heading: Heading = sent
  let drafts: Said[] = []
  const close = () => {
    findings.push(...finished(drafts, heading, labels))
    isPlural ||= isUncounted(drafts, heading, labels)
    drafts = []
  }
  for (const statement of statementsOf(text)) {
    const { heading: said, rest } = partHeading(statement)
    if (said !== undefined) {
      close()
      heading = { ...(labels.length > 0 ? sent : {}), ...readHeading(said) }
    }
    isElsewhere ||= heading.organ === 'elsewhere'
    if (heading.earlier) continue
    const reading = readStatement(rest, heading.organ)
    excludes ||= reading.excludes
    isElsewhere ||= reading.isElsewhere
    onlyDenies ||= reading.onlyDenies
    states ||= !reading.onlyDenies && rest !== ''
    doubted.push(...reading.doubted)
    for (const one of reading.said) addSaid(drafts, one)
    addLater(drafts, reading.detail)
  }
  close()
  return { labels, findings, excludes, doubted, isElsewhere, onlyDenies: onlyDenies && !states, isUncounted: isPlural }
}
