import type { FhirResource, Observation, ObservationComponent } from 'fhir/r4'
import { dateOf } from '../calendar.ts'
import type { Plan } from '../plan.ts'
import { concept, fact, quantity, siteConcept } from './codes.ts'
import { interval, told } from './components.ts'
import { term, unmappedTerms } from './local-terms.ts'
import { observation, type Value } from './observations.ts'

/** The rest of what was observed: in one unit as one panel, in the others as observations of their own. */
export function writeDetails(plan: Plan): FhirResource[] {
  const { details, row, unit } = plan
  if (!details) return []
  const written = [...writeTimes(plan), ...writeInjury(plan)]
  if (row.preparationGrade)
    written.push(
      observation(plan, 'grade', concept('snomed', '225106003'), { valueCodeableConcept: fact(row.preparationGrade) }),
    )
  return unit.id === 'quernford' ? [...written, ...writePanel(plan)] : [...written, ...writeSingly(plan)]
}

const saying = (value: string | boolean): Value =>
  typeof value === 'boolean' ? { valueBoolean: value } : { valueCodeableConcept: fact(value) }

function writeSingly(plan: Plan): Observation[] {
  const { details = {}, row, unit } = plan
  const { ileumSaid, retroflexionSaid, antithromboticsSaid } = details
  const written: Observation[] = []
  const add = (name: string, code: string, value: string | boolean | undefined) => {
    if (value !== undefined) written.push(observation(plan, name, fact(code), saying(value)))
  }
  const asAnswer = unit.id === 'tarnhollow' && retroflexionSaid !== undefined
  add('takeover', 'takeover', row.takeover)
  if (unit.id === 'tarnhollow') add('anaesthetist', 'anaesthetist-led', row.anaesthetistLed)
  add('ileum', 'ileal-intubation', ileumSaid)
  add('retroflexion', 'rectal-retroflexion', asAnswer ? retroflexionSaid === 'done' : retroflexionSaid)
  add('insufflation', 'insufflation', row.insufflation)
  add('exchange', 'instrument-exchanged', details.exchangeSaid)
  if (unit.id === 'ellenby') {
    add('dye', 'dye', row.dye)
    add('detection', 'computer-aided-detection', row.computerAidedDetection)
    written.push(...writeOutcome(plan))
  }
  add('antithrombotics', 'antithrombotic-use', antithromboticsSaid)
  written.push(...writeBefore(plan))
  return written
}

/** What was asked before the examination, and of the patient after it. */
function writeBefore(plan: Plan): Observation[] {
  const { diarrhoeaSaid, repeatSaid, testDay, lastDay, lastYears } = plan.details ?? {}
  const on = (day: number | undefined): Value | undefined =>
    day === undefined ? undefined : { valueDateTime: dateOf(day) }
  const said: readonly (readonly [string, Value | undefined])[] = [
    ['chronic-diarrhoea', diarrhoeaSaid === undefined ? undefined : saying(diarrhoeaSaid)],
    ['after-incomplete-examination', repeatSaid === undefined ? undefined : saying(repeatSaid)],
    ['positive-test-date', on(testDay)],
    [
      'last-colonoscopy',
      on(lastDay) ?? (lastYears === undefined ? undefined : { valueQuantity: quantity(lastYears, 'a') }),
    ],
    ['patient-experience', plan.row.patientExperience && saying(plan.row.patientExperience)],
  ]
  return said.flatMap(([code, value]) => (value === undefined ? [] : [observation(plan, code, fact(code), value)]))
}

function writeOutcome(plan: Plan): Observation[] {
  const { unit, details } = plan
  if (!details?.outcome) return []
  const { outcome, beforeCaecum, reason, reinserted } = details.outcome
  const component = [
    ...told(unit.id, 'attachment-removed-before-caecum', beforeCaecum),
    ...told(unit.id, 'attachment-removal-reason', reason),
    ...told(unit.id, 'attachment-reinserted', reinserted),
  ]
  const written = observation(plan, 'attachment-outcome', fact('attachment-outcome'), saying(outcome))
  return [{ ...written, ...(component.length > 0 && { component }) }]
}

/** Everything that one unit notes, as components of one observation in its own codes. */
function writePanel(plan: Plan): Observation[] {
  const { details = {}, row, unit } = plan
  const tell = (code: string, value: string | boolean | undefined) => told(unit.id, code, value)
  const component: ObservationComponent[] = [
    ...tell('anaesthetist-led', row.anaesthetistLed),
    ...tell('ileal-intubation', details.ileumSaid),
    ...tell('rectal-retroflexion', details.retroflexionSaid),
    ...tell('insufflation', row.insufflation),
    ...tell('instrument-exchanged', details.exchangeSaid),
    ...tell('attachment-outcome', details.outcome?.outcome),
    ...tell('attachment-removal-reason', details.outcome?.reason),
    ...(details.biopsies ?? []).map(({ part, number }) => ({
      code: term(unit.id, `biopsies-${part}`),
      valueInteger: number,
    })),
    ...adviceIn(plan),
    ...(details.unmappedTerm ? [{ code: { coding: [unmappedTerms.position] }, valueInteger: 2 }] : []),
  ]
  if (component.length === 0) return []
  return [{ ...observation(plan, 'panel', concept('localProcedures', 'COL-1'), {}), component }]
}

/** The interval stands in the panel, beside advice in the procedure. */
function adviceIn({ unit, details }: Plan): ObservationComponent[] {
  const advice = details?.advice
  if (advice?.spoilt === 'range')
    return [{ code: term(unit.id, 'advised-interval'), valueString: 'three to five years' }]
  return interval(unit.id, advice?.spoilt === 'contradiction' ? 36 : advice?.first.months)
}

function writeTimes(plan: Plan): Observation[] {
  const { insertionText, withdrawalZero } = plan.details ?? {}
  return [
    ...(insertionText === undefined
      ? []
      : [observation(plan, 'insertion', fact('insertion-time'), { valueString: insertionText })]),
    ...(withdrawalZero
      ? [observation(plan, 'withdrawal', fact('withdrawal-time'), { valueQuantity: quantity(0, 'min') })]
      : []),
  ]
}

/** With a site an injury is there, in one unit without a further word. */
function writeInjury(plan: Plan): Observation[] {
  const { unit, details } = plan
  if (!details?.injury) return []
  const { seen, site, treated } = details.injury
  const component = told(unit.id, 'mucosal-injury-treated', treated)
  const value = unit.id === 'tarnhollow' ? {} : { valueBoolean: seen }
  const written = observation(plan, 'injury', term(unit.id, 'mucosal-injury'), value, site && siteConcept(site, false))
  return [{ ...written, ...(component.length > 0 && { component }) }]
}
