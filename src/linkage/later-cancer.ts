import { daysBetween, isKnownBy } from '../fhir/dates.ts'
import type { Json } from '../fhir/json.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { beganIn, conditionDates } from './condition-dates.ts'
import { isRefuted, isUnconfirmed, onsetOf } from './conditions.ts'
import { type Examination, sawFeed } from './examinations.ts'
import type { Reading } from './reading.ts'

type LaterCancer = Pick<Colonoscopy, 'laterColorectalCancer' | 'laterColorectalCancerDay'>

/** A cancer within half a year, 183 days, is taken to have been there at the examination. */
export const presentWithinDays = 183

const notRecorded: LaterCancer = { laterColorectalCancer: undefined, laterColorectalCancerDay: undefined }

/**
 * Colorectal cancer diagnosed more than 183 days after the examination, and days from the examination to the first such
 * diagnosis, from the patient's conditions known by the as-of instant. The date is the onset, else the recording.
 *
 * Where a cancer was found by the examination's own histology, or was recorded before, or within the 183 days, or as one of the
 * past, a later recording may be of the same disease: neither fact is recorded. Nor is it where a cancer was not confirmed, or
 * its date leaves open which side of the 183 days it lies on.
 *
 * @param conditions of the patient
 * @param cancerCount cancers that the examination's own histology found
 */
export function readLaterCancer(
  examination: Examination,
  conditions: readonly Json[],
  cancerCount: number | undefined,
  { resources, codes, asOf, complete }: Reading,
): LaterCancer {
  const { span, zone, trail } = examination
  const later: { readonly condition: Json; readonly earliest: number; readonly latest: number }[] = []
  let isOpen = cancerCount !== undefined && cancerCount > 0
  for (const condition of conditions) {
    const { sets } = codes.of(condition.code)
    const isPast = sets.has('past-colorectal-cancer')
    if ((!isPast && !sets.has('colorectal-cancer')) || isRefuted(condition)) continue
    const onset = onsetOf(condition)
    if (!isKnownBy(condition.recordedDate ?? onset, asOf, zone)) continue
    sawFeed(examination, 'cancers')
    if (isPast) {
      isOpen = true
      continue
    }
    const birthDate = resources.at(examination.patient)?.birthDate
    const when = beganIn(condition, birthDate, zone)
    // Words, or an age alone, say that it began at some time, not when: the day of recording may be years after it.
    const { unread, by } = conditionDates(condition, birthDate, zone)
    if (unread !== undefined) trail?.cannotRead('laterColorectalCancer', condition, unread)
    const wasThere = by.some(({ last }) => daysBetween(span.first, last) <= presentWithinDays)
    const earliest = when === undefined || wasThere ? 0 : daysBetween(span.last, when.first)
    if (when !== undefined && earliest > presentWithinDays && !isUnconfirmed(condition))
      later.push({ condition, earliest, latest: daysBetween(span.first, when.last) })
    else isOpen = true
  }
  if (isOpen) return notRecorded
  const [first, ...more] = later.sort((one, other) => one.earliest - other.earliest || one.latest - other.latest)
  if (first === undefined) {
    if (!complete('cancers')) return notRecorded
    trail?.note('laterColorectalCancer', undefined, 'nothing found in a complete feed', 'Condition.code')
    return { laterColorectalCancer: false, laterColorectalCancerDay: undefined }
  }
  const { condition, earliest, latest } = first
  const isDayKnown = latest === Math.min(latest, ...more.map((one) => one.earliest)) && earliest === latest
  trail?.note('laterColorectalCancer', condition, 'record of the same patient', 'Condition.code')
  if (isDayKnown)
    trail?.note('laterColorectalCancerDay', condition, 'record of the same patient', dateElement(condition))
  return { laterColorectalCancer: true, laterColorectalCancerDay: isDayKnown ? earliest : undefined }
}

const dateElement = (condition: Json): string =>
  onsetOf(condition) === undefined ? 'Condition.recordedDate' : 'Condition.onset[x]'
