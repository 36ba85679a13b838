/**
 * The one door through which outside data comes in: a resource is `Json` until a reader here has looked at it. Readers never
 * throw; what has another shape than expected is read as absent.
 */
export type Json = { readonly [key: string]: unknown }

const nothing: readonly Json[] = []

/** @returns the value as an object, or undefined when it is anything else (null and arrays included) */
export function asObject(value: unknown): Json | undefined {
  return typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as Json) : undefined
}

/** @returns the objects in a list; a lone object counts as a list of one; anything else is an empty list */
export function asObjects(value: unknown): readonly Json[] {
  if (Array.isArray(value)) {
    for (let index = 0; index < value.length; index++)
      if (asObject(value[index]) === undefined) return value.filter((one) => asObject(one) !== undefined)
    return value as readonly Json[]
  }
  const one = asObject(value)
  return one === undefined ? nothing : [one]
}

/** @returns a string that is not blank, trimmed */
export function asText(value: unknown): string | undefined {
  if (typeof value !== 'string') return undefined
  const last = value.length - 1
  // Nearly every text is clean; only one that begins or ends with a blank needs the copy.
  const text =
    last >= 0 && value.charCodeAt(0) > 32 && value.charCodeAt(last) > 32 && value.charCodeAt(last) < 128
      ? value
      : value.trim()
  return text === '' ? undefined : text
}

/** @returns a finite number; a decimal sent as a string is read too, as some servers send it */
export function asNumber(value: unknown): number | undefined {
  if (typeof value === 'number') return Number.isFinite(value) ? value : undefined
  if (typeof value !== 'string' || !/^\s*-?\d+(\.\d+)?\s*$/.test(value)) return undefined
  return Number(value)
}
