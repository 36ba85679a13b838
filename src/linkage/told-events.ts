import type { Codes } from '../fhir/codes.ts'
import { type CivilSpan, isKnownBy, readMoment, spanOf } from '../fhir/dates.ts'
import { asObject, asObjects, asText, type Json } from '../fhir/json.ts'
import { ownKey, referenceKey } from '../fhir/references.ts'
import type { LinkContext, Resources } from './context.ts'
import type { Examination } from './examinations.ts'
import { isRefuted } from './gather.ts'
import type { Ladder } from './ladder.ts'

export type EventKind = 'perforation' | 'bleeding'
const kinds: readonly EventKind[] = ['perforation', 'bleeding']

/** The civil days on which something may have happened, and the instant where one is written. */
export interface When extends CivilSpan {
  readonly instant?: number
}

/** An event as the record tells it, before it is given to an examination. */
export interface ToldEvent {
  /** The resource that tells it, as Type/id. */
  readonly reference: string
  readonly kind: EventKind
  /** Examinations that it names, or that name it. */
  readonly named: readonly Examination[]
  readonly subject: unknown
  /** Absent where no date that can be read is written. */
  readonly when: When | undefined
  /** Said not to be serious. */
  readonly minor: boolean
  /** Examinations that were done because of it: it came before them. */
  readonly reasonFor: readonly Examination[]
}

/**
 * Reads the events known by the as-of instant. An adverse event and the conditions that resulted from it are one event; so
 * nothing is told by a condition whose adverse event was only potential.
 */
export function readToldEvents(
  resources: Resources,
  ladder: Ladder,
  { codes, source, asOf }: LinkContext,
): readonly ToldEvent[] {
  const told: ToldEvent[] = []
  const { detailed, reasons } = readProcedures(resources, ladder, codes, told)
  const isKnown = (recorded: unknown, when: unknown) => isKnownBy(asText(recorded) ?? when, asOf, source.zone)

  const ofAdverseEvents = new Set<string>()
  for (const event of resources.ofType('AdverseEvent')) {
    if (!isKnown(event.recordedDate, event.date ?? event.detected)) continue
    const results: Json[] = []
    for (const reference of asObjects(event.resultingCondition)) {
      const key = referenceKey(reference)
      const condition = resources.at(key)
      if (key === undefined || condition === undefined) continue
      ofAdverseEvents.add(key)
      if (!isRefuted(condition) && isKnown(condition.recordedDate, onsetOf(condition))) results.push(condition)
    }
    if (event.actuality === 'potential') continue
    const found = kinds.filter(
      (kind) => codes.in(event.event, kind) || results.some(({ code }) => codes.in(code, kind)),
    )
    if (found.length === 0) continue
    const keys = results.map(ownKey)
    const suspects = examinationsAt(
      asObjects(event.suspectEntity).map(({ instance }) => referenceKey(instance)),
      ladder,
    )
    const named = suspects.length > 0 ? suspects : from(detailed, keys)
    const zone = named[0]?.zone ?? source.zone
    const dates = [event.date, event.detected, ...results.flatMap((one) => [onsetOf(one), one.recordedDate])]
    for (const kind of found)
      told.push({
        reference: ownKey(event) ?? 'AdverseEvent',
        kind,
        named,
        subject: event.subject ?? results[0]?.subject,
        when: whenOf(dates, zone) ?? whenOf([event.recordedDate], zone),
        minor: isMinor(event),
        reasonFor: from(reasons, keys),
      })
  }

  for (const condition of resources.ofType('Condition')) {
    const kind = kindOf(condition.code, codes)
    const key = ownKey(condition)
    if (kind === undefined || isRefuted(condition) || !isKnown(condition.recordedDate, onsetOf(condition))) continue
    if (key !== undefined && ofAdverseEvents.has(key)) continue
    const named = from(detailed, [key])
    const dates = [onsetOf(condition), condition.recordedDate]
    const zone = named[0]?.zone ?? source.zone
    told.push({
      reference: key ?? 'Condition',
      kind,
      named,
      subject: condition.subject,
      when: whenOf(dates, zone) ?? (dates.every((date) => date === undefined) ? onTheDay(named) : undefined),
      minor: false,
      reasonFor: from(reasons, [key]),
    })
  }
  return told
}

/** What the examinations' procedures themselves tell: complications, the conditions that detail them, reasons. */
function readProcedures(resources: Resources, ladder: Ladder, codes: Codes, told: ToldEvent[]) {
  const detailed = new Map<string, Examination[]>()
  const reasons = new Map<string, Examination[]>()
  const read = (procedure: Json, examination: Examination) => {
    for (const complication of asObjects(procedure.complication)) {
      const kind = kindOf(complication, codes)
      const named = [examination]
      if (kind !== undefined)
        told.push({
          reference: ownKey(procedure) ?? examination.key,
          kind,
          named,
          subject: procedure.subject,
          when: onTheDay(named),
          minor: false,
          reasonFor: [],
        })
    }
    addAll(detailed, procedure.complicationDetail, examination)
    addAll(reasons, procedure.reasonReference, examination)
    for (const order of asObjects(procedure.basedOn))
      addAll(reasons, resources.at(referenceKey(order))?.reasonReference, examination)
  }
  for (const examination of ladder.examinations) {
    for (const procedure of examination.all) read(procedure, examination)
    for (const { resource } of examination.children) read(resource, examination)
  }
  return { detailed, reasons }
}

/** A complication without any date happened at or right after its examination. */
const onTheDay = ([examination]: readonly Examination[]): When | undefined =>
  examination && { first: examination.date, last: examination.date }

/**
 * The first of some written dates that can be read. Where it is only a month or a year, a later one that is a day within it
 * says more.
 */
function whenOf(written: readonly unknown[], zone: string): When | undefined {
  let coarse: CivilSpan | undefined
  for (const value of written) {
    const moment = readMoment(value, zone)
    if (moment === undefined) continue
    const span = spanOf(moment)
    if (moment.date === undefined) coarse ??= span
    else if (coarse === undefined || (coarse.first <= moment.date && moment.date <= coarse.last))
      return moment.instant === undefined ? span : { ...span, instant: moment.instant }
  }
  return coarse
}

const onsetOf = (condition: Json): unknown => condition.onsetDateTime ?? asObject(condition.onsetPeriod)?.start

const kindOf = (concept: unknown, codes: Codes): EventKind | undefined => kinds.find((kind) => codes.in(concept, kind))

const isMinor = (event: Json): boolean =>
  asObjects(asObject(event.seriousness)?.coding).some(({ code }) => code === 'Non-serious' || code === 'non-serious')

function examinationsAt(keys: readonly (string | undefined)[], ladder: Ladder): Examination[] {
  const found = new Set<Examination>()
  for (const key of keys) {
    const examination = ladder.direct(key)
    if (examination) found.add(examination)
  }
  return [...found]
}

function addAll(map: Map<string, Examination[]>, references: unknown, examination: Examination): void {
  for (const reference of asObjects(references)) {
    const key = referenceKey(reference)
    if (key === undefined) continue
    const list = map.get(key)
    if (list === undefined) map.set(key, [examination])
    else if (!list.includes(examination)) list.push(examination)
  }
}

const from = (map: ReadonlyMap<string, Examination[]>, keys: readonly (string | undefined)[]): Examination[] => [
  ...new Set(keys.flatMap((key) => (key === undefined ? [] : (map.get(key) ?? [])))),
]
