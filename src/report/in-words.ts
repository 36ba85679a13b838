import type { Attribution, MeasureDefinition, Standard } from '../measures/measure.ts'
import { apartReasons, type GroupResult, type MeasureResult } from '../tally/result.ts'
import { absentInWords, apartInWords } from './apart-in-words.ts'
import { stratumWords } from './codes.ts'
import { figure, figures } from './figure.ts'

export const caution =
  'These figures are for quality improvement, not for decisions about a patient. Local policy and licensed practice come first.'

/** What the report is about: scope and period. */
export function scopeInWords({ scope, period }: MeasureResult): string {
  const place = scope.unit ? scope.unit.name : 'all units together'
  const person = scope.practitioner === undefined ? '' : `, practitioner ${scope.practitioner}`
  return `Examinations from ${period.start} to ${period.end}, ${place}${person}.`
}

/** The score with its interval and the counts it is made of, or why there is none. */
export function scoreInWords(measure: MeasureDefinition, group: GroupResult): string {
  if (measure.scoring === 'cohort') return `${examinations(group.settled.met)}.`
  if (group.score === undefined) {
    return `No figure is given. ${group.absentBecause ? absentInWords[group.absentBecause] : 'The reason is not known.'}`
  }
  const interval = group.interval
    ? ` (95 % interval ${figures(measure, group.interval)}, ${group.interval.method})`
    : ''
  return `${figure(measure, group.score)}${interval}, ${countsInWords(measure, group)}.`
}

/** `6 of 20 examinations`; for a mean or ratio the number of examinations and the sum of what was observed. */
export function countsInWords({ scoring, criteria }: MeasureDefinition, { settled }: GroupResult): string {
  const counted = settled.met + settled.notMet
  if (scoring === 'proportion') return `${settled.met} of ${examinations(counted)}`
  if (scoring === 'cohort') return examinations(settled.met)
  if (criteria.denominatorObservation)
    return `${settled.valueSum ?? 0} of ${settled.overSum ?? 0} in ${examinations(counted)}`
  return settled.valueSum === undefined
    ? `from ${examinations(counted)}`
    : `a sum of ${Number(settled.valueSum.toFixed(3))} over ${examinations(counted)}`
}

/** Bounds, where something is not recorded or pending, and whether they are to be read in place of the score. */
export function boundsInWords(measure: MeasureDefinition, group: GroupResult): string[] {
  const sentences: string[] = []
  if (group.bounds && group.bounds.lower !== group.bounds.upper) {
    sentences.push(`If what is not recorded were known, the settled days would give ${figures(measure, group.bounds)}.`)
  }
  if (group.readBounds) {
    sentences.push(
      group.bounds
        ? 'Too much is not recorded: read these bounds, not the single figure.'
        : 'Too much is not recorded: the single figure may mislead, and no bounds can be given for it.',
    )
  }
  if (group.wholePeriodBounds && group.wholePeriodBounds.lower !== group.wholePeriodBounds.upper) {
    sentences.push(
      `With everything still pending, the whole period will give ${figures(measure, group.wholePeriodBounds)}.`,
    )
  }
  return sentences
}

/** One line for each reason for which examinations stand apart: `7 pending: histology or an event may still arrive`. */
export function apartLines(group: GroupResult): string[] {
  return apartReasons.flatMap((reason) => {
    const count = group.apart[reason] ?? 0
    return count > 0 ? [`${count} ${apartInWords[reason]}`] : []
  })
}

/** Through which day everything is settled, and as of when the record was read. */
export function settledInWords({ settledThrough, period, asOf }: MeasureResult): string {
  const read = `The record was read as of ${asOf}.`
  if (settledThrough === undefined) return `${read} Not even the first day of the period is settled yet.`
  if (settledThrough >= period.end) return `${read} Every day of the period is settled.`
  return `${read} The figure covers the days through ${settledThrough}; later days are counted apart because results may still arrive.`
}

const eventChannels: Readonly<Record<string, string>> = {
  'own-hospital': 'events treated in the same hospital; those treated elsewhere are missed',
  'call-back': 'patients who were called back and asked',
  register: 'a register of events',
  'not-stated': 'a source that does not state how it learns of them',
}

/** How events become known; nothing where the measure does not count events. */
export function eventsInWords({ measure, eventsKnownBy }: MeasureResult): string[] {
  if (measure.eventWindowDays === undefined) return []
  const channels = eventsKnownBy.map((channel) => eventChannels[channel] ?? channel)
  const known = channels.length === 0 ? 'no source states how they become known' : channels.join('; ')
  return [`Only recorded events within ${measure.eventWindowDays} days are counted. How they become known: ${known}.`]
}

/** The published standards, one sentence each, and whether their figures were re-read. */
export function standardsInWords(measure: MeasureDefinition): string[] {
  const { standard, stratumStandards } = measure
  const all = [...(standard ? [standard] : []), ...stratumStandards]
  if (all.length === 0) return ['This measure is descriptive: it has no published standard.']
  return all.map((one) => oneStandard(measure, one))
}

/** The same as one text. */
export const standardInWords = (measure: MeasureDefinition): string => standardsInWords(measure).join(' ')

function oneStandard(measure: MeasureDefinition, standard: Standard): string {
  const least = measure.improvement === 'decrease' ? 'at most' : 'minimum'
  const parts = [
    ...(standard.minimum === undefined ? [] : [`${least} ${figure(measure, standard.minimum)}`]),
    ...(standard.aspirational === undefined ? [] : [`aspirational ${figure(measure, standard.aspirational)}`]),
  ]
  const figuresGiven = parts.length === 0 ? 'it states no figure' : parts.join(', ')
  const memory = standard.fromMemory
    ? ' This is recalled from memory and has not been checked against the publication.'
    : ''
  const where = standard.stratum === undefined ? '' : ` (${standard.stratum.replace('=', ': ')})`
  return `Standard: ${standard.name}${where}: ${figuresGiven}.${memory}`
}

const attributionWords: Readonly<Record<Attribution, string>> = {
  operator: 'An examination counts for the person who performed it.',
  'supervisor-in-room': 'An examination counts for the person who supervised it in the room.',
  'operator-or-supervisor-in-room':
    'An examination counts for the person who performed it, and for the person who supervised it in the room.',
  'unit-only': 'An examination counts for its unit only: no figure of a person is made.',
}

/** For whom an examination counts. */
export const attributionInWords = ({ attribution }: MeasureDefinition): string => attributionWords[attribution]

/** What is counted beside the populations, each with its number, and the things of which the outcome is not recorded. */
export function besideLines({ besides }: MeasureDefinition, group: GroupResult): string[] {
  const { itemsNotRecorded = 0, itemsUndecided = 0 } = group.settled
  return [
    ...besides.flatMap(({ description }, place) => {
      const count = group.besides[place] ?? 0
      return count > 0 ? [`${count} counted beside: ${description}`] : []
    }),
    ...(itemsNotRecorded > 0 ? [`${itemsNotRecorded} belong to it, but their outcome is not recorded`] : []),
    ...(itemsUndecided > 0 ? [`${itemsUndecided} of which it is not recorded whether they belong to it`] : []),
  ]
}

/** What was read but belongs to no period or could not be used, by reason. */
export function leftOutLines({ leftOut }: MeasureResult): string[] {
  return Object.entries(leftOut)
    .filter(([, count]) => count > 0)
    .map(([reason, count]) => `${count} left out: ${reason}`)
}

const examinations = (count: number): string => `${count} ${count === 1 ? 'examination' : 'examinations'}`

/** What a measure is divided by, in words: `unit; sex; referral reason with sex`. */
export const dividedInWords = ({ stratifiers }: MeasureDefinition): string =>
  stratifiers
    .map(({ dimensions }) => dimensions.map((dimension) => stratumWords[dimension].toLowerCase()).join(' with '))
    .join('; ')
