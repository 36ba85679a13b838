import type { OwnAddresses } from './own-addresses.ts'
import type { Resource } from './references.ts'

/**
 * The door through which a resource comes in, as it was parsed and before anybody has looked at it; it is changed in place.
 *
 * References to the source's own address become `Type/id`, so that whatever stays absolute is another server's and is
 * never taken for a resource of the same id here. The content of pictures and documents goes, as nothing reads it and a
 * window of photographs would fill the memory; text stays, as histology may be told in it.
 *
 * @returns how many contents were left out
 */
export function admit(resource: Resource, own: OwnAddresses): number {
  let contents = 0
  // A list of what is still to be looked at instead of recursion: nothing limits how deep a body is nested.
  const left: object[] = [resource]
  for (let value = left.pop(); value !== undefined; value = left.pop()) {
    if (Array.isArray(value)) {
      for (const one of value) if (typeof one === 'object' && one !== null) left.push(one)
      continue
    }
    const json = value as Record<string, unknown>
    for (const name in json) {
      const element = json[name]
      if (typeof element === 'object') {
        if (element !== null) left.push(element)
      } else if (name === 'reference' && typeof element === 'string') {
        const relative = own.relative(element)
        if (relative !== undefined) json.reference = relative
      } else if (name === 'data' && typeof element === 'string' && !isReadable(json, resource)) {
        delete json.data
        contents += 1
      }
    }
  }
  return contents
}

/** An Attachment says what it is; sampled signals, which have `data` too, do not. A Media is a picture whatever it says. */
function isReadable({ contentType }: Record<string, unknown>, { resourceType }: Resource): boolean {
  if (typeof contentType !== 'string') return resourceType !== 'Media'
  return /^\s*text\//i.test(contentType)
}
