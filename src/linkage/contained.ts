import { asObject, asObjects, asText, type Json } from '../fhir/json.ts'

/** Resource that a local reference (`#id`) means, inside the resource that holds the reference; undefined for any other reference. */
export function containedIn(holder: Json, reference: unknown): Json | undefined {
  const text = asText(asObject(reference)?.reference)
  if (text?.charCodeAt(0) !== 35) return undefined
  const id = text.slice(1)
  // Some stores write the sign into the id as well.
  return asObjects(holder.contained).find((one) => one.id === id || one.id === text)
}
