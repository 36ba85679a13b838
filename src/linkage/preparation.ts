import { holdsValue } from '../fhir/holds-value.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { preparation as fields } from '../record/preparation.ts'
import { isWord } from '../record/words.ts'
import { type BostonStated, preparationParts, readBoston } from './boston.ts'
import { judgeSegments } from './boston-total.ts'
import type { Examination } from './examinations.ts'
import type { Reading, Told } from './reading.ts'
import { type EarlierResection, presenceOf, type Stop, withUnseen } from './segment-presence.ts'
import { type Statement, settle, stated } from './settle.ts'
import { listUnread } from './told-value.ts'

type Preparation = Pick<
  Colonoscopy,
  | 'preparationScale'
  | 'preparationRight'
  | 'preparationTransverse'
  | 'preparationLeft'
  | 'rightSegmentPresent'
  | 'transverseSegmentPresent'
  | 'leftSegmentPresent'
  | 'preparationTotal'
  | 'segmentsAllAtLeast2'
  | 'preparationGrade'
  | 'preparationLevel'
  | 'stoppedForPreparation'
>
type Grade = NonNullable<Preparation['preparationGrade']>
type Level = NonNullable<Preparation['preparationLevel']>

/** Grades that no guideline calls inadequate. */
const goodGrades: readonly (Grade | undefined)[] = ['excellent', 'good']

/**
 * Preparation as recorded: Boston segments or total, a grade, or a level in words. Judging it is the measures' business.
 *
 * @param history what is known of an earlier resection, which decides which segments exist
 * @param stop whether and why the examination was stopped: where that was stool, a segment beyond a scored one was not seen
 * for stool and scores 0
 */
export function readPreparation(
  examination: Examination,
  history: EarlierResection,
  stop: Stop,
  reading: Reading,
): Preparation {
  const parts = preparationParts(examination, reading)
  const boston = readBoston(parts, examination, reading)
  const { grade, level } = readWords(parts, examination, reading)
  const stopped = stoppedForStool(stop, boston, grade, level, examination)
  const [left, transverse, right] = boston.segments.map((segment, index) =>
    presenceOf(segment, index, history, stop, examination),
  )
  const present = [left, transverse, right]
  const scores = withUnseen(boston, present, stopped === true, history, examination)
  const judged = judgeSegments(scores, present, boston, history, examination)
  return {
    preparationScale:
      judged.total !== undefined || scores.some((score) => score !== undefined)
        ? 'boston'
        : grade !== undefined
          ? 'grade'
          : level === undefined
            ? undefined
            : 'stated-level',
    preparationRight: scores[2],
    preparationTransverse: scores[1],
    preparationLeft: scores[0],
    rightSegmentPresent: right,
    transverseSegmentPresent: transverse,
    leftSegmentPresent: left,
    preparationTotal: judged.total,
    segmentsAllAtLeast2: judged.allAtLeast2,
    preparationGrade: grade,
    preparationLevel: level,
    stoppedForPreparation: stopped,
  }
}

/** Grade and level that coded observations state. */
function readWords(
  parts: readonly Told[],
  examination: Examination,
  reading: Reading,
): { grade: Grade | undefined; level: Level | undefined } {
  let grades: Statement<Grade>[] | undefined
  let levels: Statement<Level>[] | undefined
  for (const told of parts) {
    if (!told.code.sets.has('preparation-observation')) continue
    const meaning = reading.codes.of(told.holder.valueCodeableConcept)
    const grade = meaning.words.get('preparation-grade') ?? meaning.fact
    const level = meaning.words.get('preparation-level') ?? meaning.fact
    if (isWord(grade, fields.preparationGrade.values)) grades = stated(grades, grade, told)
    else if (isWord(level, fields.preparationLevel.values)) levels = stated(levels, level, told)
    else if (told.holder.dataAbsentReason === undefined && (holdsValue(told.holder) || !carriesParts(told, parts)))
      listUnread('preparationLevel', told, examination, reading)
  }
  return {
    grade: settle('preparationGrade', grades, examination),
    level: settle('preparationLevel', levels, examination),
  }
}

/** A panel that only carries components says nothing itself. */
const carriesParts = ({ resource, holder }: Told, parts: readonly Told[]): boolean =>
  holder === resource && parts.some((part) => part.resource === resource && part.holder !== resource)

/**
 * Stopped because of stool, unless what is recorded says that preparation was good: a level of adequate, a grade of good or
 * better, or scores that are all at least 2. Then it is not known.
 */
function stoppedForStool(
  { completion, stopReason }: Stop,
  { segments: heard }: BostonStated,
  grade: Grade | undefined,
  level: Level | undefined,
  { trail, lead, all }: Examination,
): boolean | undefined {
  if (completion === undefined || (completion === 'stopped' && stopReason === undefined)) return undefined
  if (completion === 'completed') {
    trail?.note('stoppedForPreparation', lead, 'inferred from the status', 'Procedure.status')
    return false
  }
  const resource = all.find(({ statusReason }) => statusReason !== undefined) ?? lead
  const isForStool = stopReason === 'inadequate-preparation'
  const scores = heard.flatMap(({ statements }) => statements)
  const isGood =
    level === 'adequate' || goodGrades.includes(grade) || (scores.length > 0 && scores.every(({ value }) => value >= 2))
  if (isForStool && isGood) {
    trail?.contradict(
      'stopped for preparation that is scored good',
      resource,
      ...scores.map(({ told }) => told.resource),
    )
    return undefined
  }
  trail?.note('stoppedForPreparation', resource, 'inferred from the stop reason', 'Procedure.statusReason')
  return isForStool
}
