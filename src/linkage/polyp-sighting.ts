import { holdsValue } from '../fhir/holds-value.ts'
import { asObject, asObjects, asText, type Json } from '../fhir/json.ts'
import { millimetresOf, wholeNumberOf } from '../fhir/quantity.ts'
import { polypFields } from '../record/findings.ts'
import { bowelSites, histologyClasses, isWord } from '../record/words.ts'
import type { Examination } from './examinations.ts'
import { mayHoldSize } from './polyp.ts'
import type { Reading, Told } from './reading.ts'
import { listUnread } from './told-value.ts'

/** How many polyps an observation tells of: one, none, a number of them, or nobody can tell. */
export type Sighting = 'one' | 'none' | number | 'unreadable'

/** Most polyps that one resource may tell of by number alone: a larger number is a slip, or means something else. */
const mostByNumber = 200

/**
 * What an observation of a polyp says of how many there were. Without a value it is one polyp; a number is a number of polyps,
 * whatever type it has; a size is one polyp's. A value that is not understood, or a reason why there is none, says neither yes
 * nor no: it is listed, and is a polyp only where it describes one.
 */
export function sightingOf(told: Told, examination: Examination, reading: Reading): Sighting {
  const sighting = stated(told, reading)
  if (sighting !== 'unreadable') return sighting
  const isOne = describesOne(told, reading)
  listUnread(isOne ? 'polyps' : 'polypCount', told, examination, reading)
  return isOne ? 'one' : sighting
}

function stated({ holder }: Told, reading: Reading): Sighting {
  const { valueBoolean, valueCodeableConcept, dataAbsentReason } = holder
  if (dataAbsentReason !== undefined) return 'unreadable'
  if (typeof valueBoolean === 'boolean') return valueBoolean ? 'one' : 'none'
  if (valueCodeableConcept !== undefined) return coded(valueCodeableConcept, reading)
  if (!holdsValue(holder)) return 'one'
  if (mayHoldSize(holder)) {
    const size = millimetresOf(holder)
    if (size !== undefined && size !== 'unreadable') return size === 0 ? 'unreadable' : 'one'
  }
  const number = isWithoutUnit(holder) ? wholeNumberOf(holder) : 'unreadable'
  // A quantity without a value says nothing.
  if (number === undefined) return 'one'
  return typeof number === 'number' && number >= 0 && number <= mostByNumber ? number : 'unreadable'
}

/** Whether a number stands bare, or as a quantity of pieces: what was a length once may have lost half of its unit. */
function isWithoutUnit({ valueQuantity }: Json): boolean {
  const quantity = asObject(valueQuantity)
  if (quantity === undefined) return true
  const { code, unit, system } = quantity
  if (asText(code) !== undefined) return true
  const words = asText(unit)
  return words === undefined ? system === undefined : words === '1' || words.startsWith('{')
}

function coded(concept: unknown, { codes }: Reading): Sighting {
  const { sets, words, fact } = codes.of(concept)
  if (fact === 'no' || fact === 'none' || sets.has('stated-no')) return 'none'
  const histology = words.get('histology')
  const isOfPolyp =
    fact === 'yes' ||
    sets.has('stated-yes') ||
    sets.has('polyp-finding') ||
    words.has('bowel-site') ||
    isWord(fact, polypFields.shape.values) ||
    isWord(fact, bowelSites) ||
    [histology, fact].some((one) => isWord(one, histologyClasses) && one !== 'other')
  return isOfPolyp ? 'one' : 'unreadable'
}

/** Whether it says what was done with a polyp, where its tissue went, or what it was like. */
function describesOne({ resource, holder }: Told, { codes }: Reading): boolean {
  if (holder !== resource) return false
  if (resource.specimen !== undefined) return true
  return asObjects(resource.component).some((component) => {
    const { sets, fact } = codes.of(component.code)
    return (sets.has('polyp-size') || fact !== undefined) && holdsValue(component)
  })
}
