import type { Source } from '../config.ts'
import { civilDate, epochDay } from '../fhir/dates.ts'
import type { CompiledMeasure } from '../measures/compiled-measure.ts'
import type { Colonoscopy, LinkedColonoscopy } from '../record/colonoscopy.ts'
import type { FeedKind } from '../record/field.ts'
import type { Answer } from './answer.ts'
import { answerOf } from './answer-of.ts'

/**
 * What is kept of one examination: the dimensions over which counts are made, and its answer to each measure in the order
 * in which the measures were given. Rows never leave the instance.
 */
export interface AnswerRow {
  readonly source: string
  readonly procedure: string
  /** Days since 1970-01-01. */
  readonly day: number
  readonly unit: string | undefined
  readonly operator: string | undefined
  readonly supervisor: string | undefined
  readonly supervisorInRoom: boolean | undefined
  readonly operatorRole: Colonoscopy['operatorRole']
  readonly referralReason: Colonoscopy['referralReason']
  readonly sex: Colonoscopy['sex']
  readonly age: number | undefined
  readonly setting: Colonoscopy['setting']
  readonly attachment: Colonoscopy['attachment']
  readonly seen: readonly FeedKind[]
  readonly answers: readonly Answer[]
}

/** Answers every measure for one linked examination. */
export function answerRow(
  { record, date, seen }: LinkedColonoscopy,
  measures: readonly CompiledMeasure[],
  source: Source,
  asOf: number,
): AnswerRow {
  const zone = source.units.find(({ id }) => id === record.unit)?.zone ?? source.zone
  const day = epochDay(date)
  const settlement = {
    day,
    asOfDay: epochDay(civilDate(asOf, zone)),
    pathologyLagDays: source.pathologyLagDays,
    eventLagDays: source.eventLagDays,
  }
  return {
    source: source.id,
    procedure: record.procedure,
    day,
    unit: record.unit,
    operator: record.operator,
    supervisor: record.supervisor,
    supervisorInRoom: record.supervisorInRoom,
    operatorRole: record.operatorRole,
    referralReason: record.referralReason,
    sex: record.sex,
    age: record.age,
    setting: record.setting,
    attachment: record.attachment,
    seen,
    answers: measures.map((measure) => answerOf(measure, record, settlement)),
  }
}
