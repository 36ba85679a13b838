import { type Heading, partHeading, readHeading } from './headings.ts'
import { readStatement } from './read-statement.ts'
import type { Said } from './said.ts'
import { type Section, type SectionKind, sectionsOf } from './sections.ts'
import { addLater, addSaid, finished } from './specimen-findings.ts'
import { specimenParts } from './specimens.ts'
import { statementsOf } from './statements.ts'
import type { TextFinding, TextFindings } from './text-findings.ts'
import { tidyText } from './tidy-text.ts'

/** What a part says: its diagnoses, and whether it says that there is no adenoma or dysplasia. */
interface PartReading {
  readonly labels: readonly string[]
  readonly findings: readonly TextFinding[]
  readonly excludes: boolean
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
  for (const tier of tiers) {
    const readings = merged(
      sections
        .filter(({ kind }) => tier.includes(kind))
        .map((section) => ({ kind: section.kind, parts: partsOf(section, sent) })),
    )
    findings = readings.flatMap((one) => one.findings)
    excludes = readings.some((one) => one.excludes)
    if (findings.length > 0 || excludes) break
  }
  return { findings, unread: findings.length === 0 && !excludes, ...(tidy.cut ? { cut: true as const } : {}) }
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
  let excludes = false
  let heading: Heading = sent
  let drafts: Said[] = []
  const close = () => {
    findings.push(...finished(drafts, heading, labels))
    drafts = []
  }
  for (const statement of statementsOf(text)) {
    const { heading: said, rest } = partHeading(statement)
    if (said !== undefined) {
      close()
      heading = { ...(labels.length > 0 ? sent : {}), ...readHeading(said) }
    }
    if (heading.earlier) continue
    const reading = readStatement(rest, heading.organ)
    excludes ||= reading.excludes
    for (const one of reading.said) addSaid(drafts, one)
    addLater(drafts, reading.detail)
  }
  close()
  return { labels, findings, excludes }
}
