import type {
  CodeableConcept,
  MeasureGroupStratifier,
  MeasureReportGroupStratifier,
  MeasureReportGroupStratifierStratum,
} from 'fhir/r4'
import type { Dimension } from '../measures/dimensions.ts'
import type { MeasureDefinition } from '../measures/measure.ts'
import type { GroupResult, MeasureResult, Stratum } from '../tally/result.ts'
import { isStratumWord, stratumConcept, stratumWords } from './codes.ts'
import { apartExtensions, besideExtensions, boundsExtensions } from './extensions.ts'
import { measureScore } from './measure-score.ts'
import { populations } from './populations.ts'

/** FHIR's `code`: no blank at either end, single blanks inside. Source: FHIR R4 (4.0.1), Data Types, code. */
const codePattern = /^[^\s]+(\s[^\s]+)*$/

/** Every stratifier of the measure, with id and code as the Measure has them. */
export function stratifiers(result: MeasureResult): MeasureReportGroupStratifier[] {
  const { measure, units, practitioners, divisions, unitNames } = result
  const conceptOf = (dimension: Dimension, key: string | undefined) => keyConcept(dimension, key, unitNames)
  const single = (dimension: 'unit' | 'practitioner', groups: readonly Stratum[]) =>
    stratifier(measure, dimension, groups, ({ key }) => ({ value: conceptOf(dimension, key) }))
  return [
    single('unit', units),
    ...(measure.attribution === 'unit-only' ? [] : [single('practitioner', practitioners)]),
    ...divisions.map(({ stratifier: { id, dimensions }, cells }) =>
      stratifier(measure, id, cells, ({ keys }) => {
        const [first] = dimensions
        if (dimensions.length === 1 && first !== undefined) return { value: conceptOf(first, keys[0]) }
        return {
          component: dimensions.map((dimension, at) => ({
            code: stratumConcept(dimension),
            value: conceptOf(dimension, keys[at]),
          })),
        }
      }),
    ),
  ]
}

const genderSystem = 'http://hl7.org/fhir/administrative-gender'

/** What an examination has of a dimension, as a concept. */
function keyConcept(
  dimension: Dimension,
  key: string | undefined,
  unitNames: Readonly<Record<string, string>>,
): CodeableConcept {
  if (dimension === 'unit')
    return key === undefined ? stratumConcept('unit-unassigned') : unitConcept(key, unitNames[key] ?? key)
  if (dimension === 'practitioner') return key === undefined ? stratumConcept('unattributed') : practitionerConcept(key)
  if (key === undefined) return stratumConcept('not-recorded')
  return dimension === 'sex' ? { coding: [{ system: genderSystem, code: key }], text: key } : { text: key }
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

function stratifier<Group extends GroupResult>(
  measure: MeasureDefinition,
  id: string,
  groups: readonly Group[],
  divide: (group: Group) => Pick<MeasureReportGroupStratifierStratum, 'value' | 'component'>,
): MeasureReportGroupStratifier {
  const declared = measure.resource.group?.[0]?.stratifier?.find((candidate) => says(candidate, id))
  const parts = measure.stratifiers.find((one) => one.id === id)?.dimensions ?? []
  // A stratifier of several components has no code of its own in a Measure (R4, mea-1), and needs one in a report.
  const code =
    declared?.code ??
    (isStratumWord(id) ? stratumConcept(id) : { text: parts.map((part) => stratumWords[part]).join(', ') })
  return {
    ...(declared?.id === undefined ? {} : { id: declared.id }),
    code: [code],
    ...(groups.length === 0 ? {} : { stratum: groups.map((group) => stratum(measure, group, divide(group))) }),
  }
}

const says = ({ id, code }: MeasureGroupStratifier, word: string): boolean =>
  id === word || code?.text === word || (code?.coding?.some((coding) => coding.code === word) ?? false)

function stratum(
  measure: MeasureDefinition,
  group: GroupResult,
  divided: Pick<MeasureReportGroupStratifierStratum, 'value' | 'component'>,
): MeasureReportGroupStratifierStratum {
  const extension = [...apartExtensions(group.apart), ...besideExtensions(measure, group), ...boundsExtensions(group)]
  return {
    ...(extension.length === 0 ? {} : { extension }),
    ...divided,
    // Element ids are unique within a resource, so only the group repeats those of the Measure.
    population: populations(measure, group).map(({ id: _, ...population }) => population),
    ...(measure.scoring === 'cohort' ? {} : { measureScore: measureScore(measure, group) }),
  }
}
