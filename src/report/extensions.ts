import type { Extension } from 'fhir/r4'
import { structure } from '../fhir/canonical.ts'
import type { MeasureDefinition, Standard } from '../measures/measure.ts'
import { type AbsentReason, apartReasons, type GroupResult } from '../tally/result.ts'
import { dataAbsentReason } from './codes.ts'

/**
 * A number fit for FHIR's decimal.
 * @throws {RangeError} for NaN and infinities, which JSON would silently turn into null
 */
function decimal(url: string, value: number): Extension {
  if (!Number.isFinite(value)) throw new RangeError(`${url} requires a finite number, not ${value}`)
  return { url, valueDecimal: value }
}

const complex = (name: string, extension: Extension[]): Extension => ({ url: structure(name), extension })

/** The 95 % interval of a score, on the scale of the score. */
export function intervalExtension(interval: NonNullable<GroupResult['interval']>): Extension {
  return complex('interval', [
    decimal('lower', interval.lower),
    decimal('upper', interval.upper),
    { url: 'method', valueString: interval.method },
    decimal('level', 0.95),
  ])
}

/** One extension for each reason with a count above zero, in the order of `apartReasons`. */
export function apartExtensions(apart: GroupResult['apart']): Extension[] {
  return apartReasons.flatMap((reason) => {
    const count = apart[reason] ?? 0
    return count > 0
      ? [
          complex('apart', [
            { url: 'reason', valueCode: reason },
            { url: 'count', valueInteger: count },
          ]),
        ]
      : []
  })
}

/**
 * What is counted beside the populations, in the order of the measure; and of a ratio of things, those that stand apart. Only
 * numbers above zero.
 */
export function besideExtensions({ besides }: MeasureDefinition, group: GroupResult): Extension[] {
  const { itemsNotRecorded = 0, itemsUndecided = 0 } = group.settled
  return [
    ...besides.flatMap(({ description, population }, place) => {
      const count = group.besides[place] ?? 0
      if (count === 0) return []
      return [
        complex('beside-count', [
          { url: 'description', valueString: description },
          { url: 'population', valueCode: population },
          { url: 'count', valueInteger: count },
        ]),
      ]
    }),
    ...(itemsNotRecorded + itemsUndecided === 0
      ? []
      : [
          complex('items-apart-count', [
            { url: 'notRecorded', valueInteger: itemsNotRecorded },
            { url: 'eligibilityNotRecorded', valueInteger: itemsUndecided },
          ]),
        ]),
  ]
}

/** Bounds of the score over the settled days, and over the whole period with pending examinations. */
export function boundsExtensions({ bounds, wholePeriodBounds, readBounds }: GroupResult): Extension[] {
  const of = (scope: string, limits: { lower: number; upper: number }, more: Extension[]): Extension =>
    complex('score-bounds', [
      decimal('lower', limits.lower),
      decimal('upper', limits.upper),
      { url: 'scope', valueCode: scope },
      ...more,
    ])
  return [
    ...(bounds ? [of('settled', bounds, [{ url: 'readInstead', valueBoolean: readBounds }])] : []),
    ...(wholePeriodBounds ? [of('whole-period', wholePeriodBounds, [])] : []),
  ]
}

/** Why a score is absent: once in FHIR's words, once in ours, which say more. */
export function absentExtensions(because: AbsentReason | undefined): Extension[] {
  return [
    {
      url: 'http://hl7.org/fhir/StructureDefinition/data-absent-reason',
      valueCode: because ? dataAbsentReason[because] : 'unknown',
    },
    ...(because ? [{ url: structure('absent-because'), valueCode: because }] : []),
  ]
}

export function standardExtension({ name, minimum, aspirational, fromMemory, stratum }: Standard): Extension {
  return complex('standard', [
    { url: 'name', valueString: name },
    ...(minimum === undefined ? [] : [decimal('minimum', minimum)]),
    ...(aspirational === undefined ? [] : [decimal('aspirational', aspirational)]),
    { url: 'fromMemory', valueBoolean: fromMemory },
    ...(stratum === undefined ? [] : [{ url: 'stratum', valueString: stratum }]),
  ])
}

/** The sum that a ratio or a mean is made of; `MeasureReport.group.population.count` can only hold whole members. */
export const observationSumExtension = (sum: number): Extension => decimal(structure('observation-sum'), sum)

/** Examinations that were read but belong to no population and no period, by reason. */
export function leftOutExtensions(leftOut: Readonly<Record<string, number>>): Extension[] {
  return Object.entries(leftOut)
    .filter(([, count]) => count > 0)
    .map(([reason, count]) =>
      complex('left-out', [
        { url: 'reason', valueString: reason },
        { url: 'count', valueInteger: count },
      ]),
    )
}
