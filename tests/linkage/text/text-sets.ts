import { readFileSync } from 'node:fs'
import { mentionsKnownLesion } from '../../../src/linkage/text/known-lesion.ts'
import { readPathologyText } from '../../../src/linkage/text/read-pathology-text.ts'
import type { TextFinding } from '../../../src/linkage/text/text-findings.ts'
import { wilsonInterval } from '../../../src/statistics/wilson-interval.ts'
import { differences } from './compared.ts'

/** A text with what a reader by hand made of it. */
export interface LabelledText {
  readonly id: string
  readonly text: string
  readonly findings: readonly TextFinding[]
  readonly unread: boolean
}

export interface LabelledReason {
  readonly id: string
  readonly text: string
  readonly knownLesion: boolean
}

/** Where the reader and a label differ. */
export interface Miss {
  readonly id: string
  readonly missed: readonly string[]
  readonly falseAlarms: readonly string[]
}

export const fixture = <T>(name: string): T => JSON.parse(readFileSync(`fixtures/text/${name}`, 'utf8')) as T

export const histologySets = [
  'own-sentences',
  'held-back-sentences',
  'unseen-sentences',
  'last-sentences',
  'clinic-note-sentences',
] as const
export const reasonSets = ['own-reasons', 'unseen-reasons', 'last-reasons', 'clinic-note-reasons'] as const

/** The published sentences with their labels, in the order of the file. */
function clinicNotes(): (LabelledText & LabelledReason)[] {
  const labels = fixture<(LabelledText & LabelledReason & { row: number })[]>('clinic-note-labels.json')
  const rows = readFileSync('fixtures/text/clinic-note-sentences.csv', 'utf8').trim().split(/\r?\n/).slice(1)
  return labels.map((label) => {
    const row = rows[label.row - 1] ?? ''
    // The sentence is the fourth column; only it holds commas, and then it stands in quotes.
    const sentence = /^[^,]*,[^,]*,[^,]*,(.*)$/.exec(row)?.[1] ?? ''
    return { ...label, id: `note-${label.row}`, text: sentence.replace(/^"|"$/g, '') }
  })
}

export function labelledTexts(set: (typeof histologySets)[number]): LabelledText[] {
  return set === 'clinic-note-sentences' ? clinicNotes() : fixture<LabelledText[]>(`${set}.json`)
}

export function labelledReasons(set: (typeof reasonSets)[number]): LabelledReason[] {
  return set === 'clinic-note-reasons' ? clinicNotes() : fixture<LabelledReason[]>(`${set}.json`)
}

export function missesOf(texts: readonly LabelledText[]): Miss[] {
  return texts
    .map((one): Miss => ({ id: one.id, ...differences(one, readPathologyText(one.text)) }))
    .filter(({ missed, falseAlarms }) => missed.length + falseAlarms.length > 0)
}

export function reasonMissesOf(reasons: readonly LabelledReason[]): Miss[] {
  return reasons
    .filter(({ text, knownLesion }) => mentionsKnownLesion(text) !== knownLesion)
    .map(({ id, knownLesion }) => ({
      id,
      missed: knownLesion ? ['known lesion'] : [],
      falseAlarms: knownLesion ? [] : ['known lesion'],
    }))
}

/** "40 of 52, 76.9 % (63.9 to 86.3)", the interval by Wilson's method. */
export function share(right: number, all: number): string {
  const { lower, upper } = wilsonInterval(right, all)
  const percent = (value: number) => (value * 100).toFixed(1)
  return `${right} of ${all}, ${percent(right / all)} % (${percent(lower)} to ${percent(upper)})`
}
