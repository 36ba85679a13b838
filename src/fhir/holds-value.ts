import type { Json } from './json.ts'

/** Whether an observation or component holds a value of whatever type, be it one that can be read or not. */
export function holdsValue(holder: Json): boolean {
  for (const name in holder)
    if (name.startsWith('value') && holder[name] !== undefined && holder[name] !== null) return true
  return false
}
