import type { Source } from '../config.ts'
import type { LinkedColonoscopy } from '../record/colonoscopy.ts'
import { type FeedKind, feedKinds } from '../record/field.ts'

/** Examinations in which a fact would be recorded, would no longer be, or would be another. */
export interface FactChange {
  gained: number
  lost: number
  changed: number
}

/** What a source shows of one kind of feed, and what its declaration changes. */
export interface FeedFinding {
  readonly kind: FeedKind
  readonly declared: boolean
  /** Examinations for which anything of the kind arrived. */
  seenIn: number
  examinations: number
  /** What the other declaration would change: facts by field. */
  readonly facts: Map<string, FactChange>
  /** What the other declaration would change: answers by measure id and `before → after`. */
  readonly answers: Map<string, number>
}

export type Proposal = 'keep declared' | 'withdraw' | 'declare' | 'keep undeclared' | 'decide with the department'

/** One measure's answers to a window's examinations, in their order. */
export interface AnsweredMeasure {
  readonly id: string
  readonly codes: readonly string[]
}

export function emptyFindings({ completeFeeds }: Source): readonly FeedFinding[] {
  return feedKinds.map((kind) => ({
    kind,
    declared: completeFeeds.includes(kind),
    seenIn: 0,
    examinations: 0,
    facts: new Map(),
    answers: new Map(),
  }))
}

/** The source as it would be with the other declaration of one kind. */
export function withOtherDeclaration(source: Source, kind: FeedKind): Source {
  const others = source.completeFeeds.filter((one) => one !== kind)
  return { ...source, completeFeeds: others.length < source.completeFeeds.length ? others : [...others, kind] }
}

/** Adds what one window's examinations show. */
export function addSeen(findings: readonly FeedFinding[], colonoscopies: readonly LinkedColonoscopy[]): void {
  for (const finding of findings) {
    finding.examinations += colonoscopies.length
    for (const { seen } of colonoscopies) if (seen.includes(finding.kind)) finding.seenIn++
  }
}

/** Adds what the other declaration changes in one window. Both lists are of the same examinations, in the same order. */
export function addChanges(
  finding: FeedFinding,
  before: readonly LinkedColonoscopy[],
  after: readonly LinkedColonoscopy[],
  answersBefore: readonly AnsweredMeasure[],
  answersAfter: readonly AnsweredMeasure[],
): void {
  before.forEach(({ record }, index) => {
    const other: Readonly<Record<string, unknown>> = after[index]?.record ?? {}
    for (const [name, value] of Object.entries(record)) {
      const instead = other[name]
      if (isSame(value, instead)) continue
      const known = finding.facts.get(name) ?? { gained: 0, lost: 0, changed: 0 }
      finding.facts.set(name, known)
      if (value === undefined) known.gained++
      else if (instead === undefined) known.lost++
      else known.changed++
    }
  })
  answersBefore.forEach(({ id, codes }, measure) => {
    codes.forEach((code, index) => {
      const other = answersAfter[measure]?.codes[index]
      if (other === undefined || other === code) return
      const change = `${id}: ${code} → ${other}`
      finding.answers.set(change, (finding.answers.get(change) ?? 0) + 1)
    })
  })
}

/** Facts are words and numbers, and lists of elements that hold such: both records are made in one way, so that text compares them. */
const isSame = (one: unknown, other: unknown): boolean =>
  one === other ||
  (typeof one === 'object' && typeof other === 'object' && JSON.stringify(one) === JSON.stringify(other))

/** Kinds of which a source that sends them all must show some in every few examinations. */
const frequent: readonly FeedKind[] = ['polyps', 'pathology', 'photographs', 'medication']
/** Examinations from which the share of a frequent kind says anything. */
const enough = 100
/** Share of examinations from which a frequent kind looks like a whole feed rather than scraps of one. */
const wholeFeedShare = 0.2

/**
 * What the numbers alone can propose. A feed is complete or not by how the hospital works, which no data show: what happens
 * rarely can only be decided by people who know.
 */
export function proposalFor({ kind, declared, seenIn, examinations }: FeedFinding): Proposal {
  const isFrequent = frequent.includes(kind)
  if (examinations < enough) return declared ? 'keep declared' : 'decide with the department'
  if (declared) return isFrequent && seenIn === 0 ? 'withdraw' : 'keep declared'
  if (!isFrequent) return seenIn === 0 ? 'keep undeclared' : 'decide with the department'
  return seenIn / examinations >= wholeFeedShare ? 'declare' : 'keep undeclared'
}
