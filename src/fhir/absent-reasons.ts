import { canonicalSystem } from './code-system-aliases.ts'
import { asObject, asObjects, asText, type Json } from './json.ts'

const reasonSystem = 'http://terminology.hl7.org/CodeSystem/data-absent-reason'

/** Source: HL7 data-absent-reason, the codes of R4. */
export const reasonsForAbsence: ReadonlySet<string | undefined> = new Set([
  ...['unknown', 'asked-unknown', 'temp-unknown', 'not-asked', 'asked-declined', 'masked', 'not-applicable'],
  ...['unsupported', 'as-text', 'error', 'not-a-number', 'negative-infinity', 'positive-infinity'],
  ...['not-performed', 'not-permitted'],
])

/** Codes of the reasons why an observation or component has no value. */
export const absentReasons = ({ dataAbsentReason }: Json): (string | undefined)[] =>
  asObjects(asObject(dataAbsentReason)?.coding).flatMap(({ system, code }) =>
    canonicalSystem(asText(system) ?? '') === reasonSystem ? [asText(code)] : [],
  )
