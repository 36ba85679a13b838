import type {
  CodeableConcept,
  MeasureGroupStratifier,
  MeasureReportGroupStratifier,
  MeasureReportGroupStratifierStratum,
} from 'fhir/r4'
import type { MeasureDefinition } from '../measures/measure.ts'
import type { MeasureResult, Stratum } from '../tally/result.ts'
import { stratumConcept } from './codes.ts'
import { apartExtensions, boundsExtensions } from './extensions.ts'
import { measureScore } from './measure-score.ts'
import { populations } from './populations.ts'

/** FHIR's `code`: no blank at either end, single blanks inside. Source: FHIR R4 (4.0.1), Data Types, code. */
const codePattern = /^[^\s]+(\s[^\s]+)*$/

/** The stratifiers `unit` and `practitioner`, with id and code as the Measure has them. */
export function stratifiers(result: MeasureResult): MeasureReportGroupStratifier[] {
  const { measure, units, practitioners, unitNames } = result
  const unitValue = (key: string | undefined): CodeableConcept =>
    key === undefined ? stratumConcept('unit-unassigned') : unitConcept(key, unitNames[key] ?? key)
  const practitionerValue = (key: string | undefined): CodeableConcept =>
    key === undefined ? stratumConcept('unattributed') : practitionerConcept(key)
  return [
    stratifier(measure, 'unit', units, unitValue),
    stratifier(measure, 'practitioner', practitioners, practitionerValue),
  ]
}

/** A unit's id is configuration, so its coding has no system; the name is what people read. */
function unitConcept(id: string, name: string): CodeableConcept {
  return codePattern.test(id) ? { coding: [{ code: id, display: name }], text: name } : { text: name }
}

/** `system|value` as a coding; any other key as text alone. */
function practitionerConcept(key: string): CodeableConcept {
  const bar = key.indexOf('|')
  const [system, value] = [key.slice(0, bar), key.slice(bar + 1)]
  return bar > 0 && codePattern.test(value) ? { coding: [{ system, code: value }], text: value } : { text: key }
}

function stratifier(
  measure: MeasureDefinition,
  word: 'unit' | 'practitioner',
  groups: readonly Stratum[],
  valueFor: (key: string | undefined) => CodeableConcept,
): MeasureReportGroupStratifier {
  const declared = measure.resource.group?.[0]?.stratifier?.find((candidate) => says(candidate, word))
  return {
    ...(declared?.id === undefined ? {} : { id: declared.id }),
    code: [declared?.code ?? stratumConcept(word)],
    ...(groups.length === 0 ? {} : { stratum: groups.map((group) => stratum(measure, group, valueFor(group.key))) }),
  }
}

const says = ({ id, code }: MeasureGroupStratifier, word: string): boolean =>
  id === word || code?.text === word || (code?.coding?.some((coding) => coding.code === word) ?? false)

function stratum(
  measure: MeasureDefinition,
  group: Stratum,
  value: CodeableConcept,
): MeasureReportGroupStratifierStratum {
  const extension = [...apartExtensions(group.apart), ...boundsExtensions(group)]
  return {
    ...(extension.length === 0 ? {} : { extension }),
    value,
    // Element ids are unique within a resource, so only the group repeats those of the Measure.
    population: populations(measure, group).map(({ id: _, ...population }) => population),
    measureScore: measureScore(measure, group),
  }
}
