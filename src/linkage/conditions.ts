import { asObject, asObjects, type Json } from '../fhir/json.ts'

/** A condition that somebody ruled out, or entered by mistake. */
export function isRefuted(condition: Json): boolean {
  return asObjects(asObject(condition.verificationStatus)?.coding).some(
    ({ code }) => code === 'refuted' || code === 'entered-in-error',
  )
}

/** When a condition began, as written. */
export const onsetOf = (condition: Json): unknown => condition.onsetDateTime ?? asObject(condition.onsetPeriod)?.start

const unconfirmed: ReadonlySet<unknown> = new Set(['unconfirmed', 'provisional', 'differential'])

/** A condition that is suspected, and that nobody has confirmed or ruled out. */
export const isUnconfirmed = ({ verificationStatus }: Json): boolean =>
  asObjects(asObject(verificationStatus)?.coding).some(({ code }) => unconfirmed.has(code))
