import { type FeedKind, type Field, feedKinds } from '../record/field.ts'
import { fieldGroups } from '../record/fields.ts'
import type { Closest } from './closest.ts'
import { type FactChange, type FeedFinding, type Proposal, proposalFor } from './feed-findings.ts'
import { heapedValue } from './heaping.ts'
import { looksLikeCode } from './shown-code.ts'
import {
  toDoForContradiction,
  toDoForDeadEnd,
  toDoForDiffering,
  toDoForDoubt,
  toDoForFeed,
  toDoForField,
  toDoForHeaping,
  toDoForLeftOut,
  toDoForMalformed,
  toDoForText,
  toDoForUnlinked,
  toDoForUnmatched,
} from './to-do.ts'
import type { Tallied, WiringTotals } from './totals.ts'

/** One line about something that was counted: what, how often, where to look, what to do. */
export interface Line {
  readonly what: string
  readonly count: number
  /** References as Type/id: nothing else of a patient is ever shown. */
  readonly examples: readonly string[]
  readonly toDo: string
}

export interface FieldLine {
  readonly group: string
  /** Name of the field; `polyps.site` for a field of a list's elements. */
  readonly field: string
  readonly recorded: number
  /** Examinations, or elements of the list, in which it could be recorded. */
  readonly of: number
  /** 0 to 1; absent where there is nothing to divide by. */
  readonly share?: number
  readonly unreadable: number
  readonly unreadableExamples: readonly string[]
  readonly ways: readonly { readonly element: string; readonly rung: string; readonly count: number }[]
  readonly toDo: string
}

export interface UnmatchedLine {
  readonly where: string
  readonly system?: string
  readonly code?: string
  /** Display or text, shown only where enough patients share it. */
  readonly words?: string
  readonly count: number
  readonly closest?: Closest
  readonly toDo: string
}

export interface FeedLine {
  readonly kind: FeedKind
  readonly declared: boolean
  readonly seenIn: number
  readonly examinations: number
  readonly proposal: Proposal
  /** What the other declaration would change. */
  readonly factsThatChange: readonly ({ readonly field: string } & Readonly<FactChange>)[]
  readonly answersThatChange: readonly { readonly change: string; readonly examinations: number }[]
  readonly toDo: string
}

/** What the wiring of one source looks like over a period. */
export interface SourceWiring {
  readonly source: string
  readonly examinations: number
  readonly reasons: { readonly stated: number; readonly several: number; readonly shareWithSeveral?: number }
  readonly fields: readonly FieldLine[]
  readonly feeds: readonly FeedLine[]
  readonly unmatched: readonly UnmatchedLine[]
  /** Texts, and codes that look like texts, of too few patients to be shown. */
  readonly textsWithheld: number
  readonly deadEnds: readonly Line[]
  readonly leftOut: readonly Line[]
  readonly unlinked: readonly Line[]
  /** Elements that are not of the shape that R4 gives them. */
  readonly malformed: readonly Line[]
  readonly contradictions: readonly Line[]
  readonly doubts: readonly Line[]
  /** What the source did not deliver, and what was odd, in sentences. */
  readonly incomplete: readonly string[]
  readonly notes: readonly string[]
}

export interface WiringReport {
  readonly periodStart: string
  readonly periodEnd: string
  readonly asOf: string
  readonly sources: readonly SourceWiring[]
}

/** Patients who must share a text, a display or a code that looks like one: what one record says may be about its patient. */
export const fewestPatientsForText = 5
/** Lines of codes that matched nothing, of one element; what comes after is rare. */
const mostUnmatchedOfOne = 50

/** @param closest the concept of ours that some words resemble most */
export function sourceWiring(
  source: string,
  totals: WiringTotals,
  findings: readonly FeedFinding[],
  closest: (words: string | undefined) => Closest | undefined,
  told: { readonly incomplete: readonly string[]; readonly notes: readonly string[] },
): SourceWiring {
  const { severalReasons, reasonsStated } = totals
  const { lines: unmatched, withheld } = unmatchedLines(totals, closest)
  return {
    source,
    examinations: totals.examinations,
    reasons: {
      stated: reasonsStated,
      several: severalReasons,
      ...(reasonsStated > 0 && { shareWithSeveral: share(severalReasons, reasonsStated) }),
    },
    fields: fieldLines(totals),
    feeds: findings.map(feedLine).sort((one, other) => feedKinds.indexOf(one.kind) - feedKinds.indexOf(other.kind)),
    unmatched,
    textsWithheld: withheld,
    deadEnds: lines(totals.deadEnds, toDoForDeadEnd),
    leftOut: lines(totals.leftOut, toDoForLeftOut),
    unlinked: lines(totals.unlinked(), () => toDoForUnlinked),
    malformed: lines(totals.misshapen(), () => toDoForMalformed),
    contradictions: lines(totals.contradictions, () => toDoForContradiction),
    doubts: [
      ...lines(totals.doubts, () => toDoForDoubt),
      ...lines(totals.differing(), () => toDoForDiffering),
      ...heapingLines(totals),
    ],
    ...told,
  }
}

function fieldLines({ fields: totals }: WiringTotals): FieldLine[] {
  const line = (group: string, field: string): FieldLine => {
    const { recorded = 0, of = 0, unreadable, ways } = totals.get(field) ?? {}
    return {
      group,
      field,
      recorded,
      of,
      ...(of > 0 && { share: share(recorded, of) }),
      unreadable: unreadable?.count ?? 0,
      unreadableExamples: unreadable?.examples ?? [],
      ways: [...(ways?.values() ?? [])].sort(
        (one, other) => other.count - one.count || (one.element < other.element ? -1 : 1),
      ),
      toDo: toDoForField(recorded, of, unreadable?.count ?? 0),
    }
  }
  return Object.entries(fieldGroups).flatMap(([group, ofGroup]) =>
    Object.entries<Field>(ofGroup).flatMap(([name, { of = {} }]) => [
      line(group, name),
      ...Object.keys(of).map((inner) => line(group, `${name}.${inner}`)),
    ]),
  )
}

function unmatchedLines(totals: WiringTotals, closest: (words: string | undefined) => Closest | undefined) {
  let withheld = 0
  const found = [...totals.unmatched.values()].flatMap(({ where, system, code, count, wordings, patients }) => {
    const words = sharedWords(wordings)
    const isShared = patients.size >= fewestPatientsForText
    if (code === undefined ? words === undefined : !isShared && !looksLikeCode(system, code)) {
      withheld += count
      return []
    }
    const near = closest(words)
    const line: UnmatchedLine = {
      where,
      ...(system !== undefined && { system }),
      ...(code !== undefined && { code }),
      ...(words !== undefined && { words }),
      count,
      ...(near && { closest: near }),
      toDo: code === undefined ? toDoForText : toDoForUnmatched(near?.display),
    }
    return [line]
  })
  found.sort((one, other) => other.count - one.count || (sortKey(one) < sortKey(other) ? -1 : 1))
  return { lines: foremostOfEach(found), withheld }
}

/** The first lines of each element, so that a patient's many other diagnoses crowd out nothing else. */
function foremostOfEach(found: readonly UnmatchedLine[]): UnmatchedLine[] {
  const lines = new Map<string, number>()
  return found.filter(({ where }) => {
    const count = (lines.get(where) ?? 0) + 1
    lines.set(where, count)
    return count <= mostUnmatchedOfOne
  })
}

/** The words that most patients share, and enough of them: what one record alone says may be about its patient. */
function sharedWords(wordings: ReadonlyMap<string, ReadonlySet<string>>): string | undefined {
  let best: string | undefined
  let most = fewestPatientsForText - 1
  for (const [words, { size }] of wordings)
    if (size > most || (size === most && best !== undefined && words < best)) {
      best = words
      most = size
    }
  return best
}

const sortKey = ({ where, system = '', code = '', words = '' }: UnmatchedLine): string =>
  [where, system, code, words].join('|')

function feedLine(finding: FeedFinding): FeedLine {
  const { kind, declared, seenIn, examinations, facts, answers } = finding
  const proposal = proposalFor(finding)
  return {
    kind,
    declared,
    seenIn,
    examinations,
    proposal,
    factsThatChange: [...facts]
      .map(([field, change]) => ({ field, ...change }))
      .sort((one, other) => changesIn(other) - changesIn(one) || (one.field < other.field ? -1 : 1)),
    answersThatChange: [...answers]
      .map(([change, count]) => ({ change, examinations: count }))
      .sort((one, other) => other.examinations - one.examinations || (one.change < other.change ? -1 : 1)),
    toDo: toDoForFeed(kind, proposal),
  }
}

const changesIn = ({ gained, lost, changed }: FactChange): number => gained + lost + changed

function lines(map: ReadonlyMap<string, Pick<Tallied, 'count' | 'examples'>>, toDo: (what: string) => string): Line[] {
  return [...map]
    .map(([what, { count, examples }]) => ({ what, count, examples: [...examples].sort(), toDo: toDo(what) }))
    .sort((one, other) => other.count - one.count || (one.what < other.what ? -1 : 1))
}

const timesOf = { insertionMinutes: 'insertion', withdrawalMinutes: 'withdrawal' } as const

function heapingLines({ minutes }: WiringTotals): Line[] {
  return (['insertionMinutes', 'withdrawalMinutes'] as const).flatMap((field) => {
    const heap = heapedValue(minutes[field])
    if (heap === undefined) return []
    const what = `${timesOf[field]} times pile up on ${heap.value} minutes: ${heap.count} of ${heap.of}`
    return [{ what, count: heap.count, examples: [], toDo: toDoForHeaping }]
  })
}

/** To three decimals: more would be noise. */
const share = (part: number, whole: number): number => Math.round((1000 * part) / whole) / 1000
