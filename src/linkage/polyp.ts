import { asObject, asObjects, type Json } from '../fhir/json.ts'
import { millimetresOf } from '../fhir/quantity.ts'
import { keysAt, ownKey, referenceKey } from '../fhir/references.ts'
import type { Polyp } from '../record/colonoscopy.ts'
import { polypFields } from '../record/findings.ts'
import { bowelSites, histologyClasses, isWord } from '../record/words.ts'
import type { Examination } from './examinations.ts'
import type { StatedSize } from './polyp-size.ts'
import { type Reading, type Told, valueElementOf } from './reading.ts'
import type { Rung } from './rungs.ts'
import { componentOf, wordOf, yesOrNo } from './told-value.ts'

/** A polyp with what is needed to find its histology. */
export interface FoundPolyp {
  /** Of the observations that tell of it, each a `Type/id`. */
  readonly keys: readonly string[]
  readonly specimen: string | undefined
  /** What tells of it. */
  readonly resource: Json
  readonly polyp: Polyp
}

/** One thing that a fact of a polyp rests on. */
export interface PolypEvidence {
  readonly name: keyof Polyp
  readonly resource: Json
  readonly rung: Rung
  readonly element: string
}

/** A polyp while it is put together. */
export interface Lesion extends FoundPolyp {
  readonly told: Told
  readonly partOf: readonly string[]
  readonly sizes: StatedSize[]
  isKnown: boolean
  /** A polypectomy names it. */
  named: boolean
  /** The polypectomy that says with what it was taken, where its own component does not. */
  toolBy: Told | undefined
  /** Fields of which two different words are stated. */
  disputed: readonly (keyof Polyp)[]
  /** Kept only where a survey asks for it. */
  readonly evidence: PolypEvidence[] | undefined
}

/** Takes down what a fact of a polyp rests on. */
export function restsOn(lesion: Lesion, name: keyof Polyp, { resource, rung }: Told, element: string): void {
  lesion.evidence?.push({ name, resource, rung, element })
}

const none: readonly never[] = []

/**
 * One lesion with its components. One that is said to have been known before is never counted as new.
 *
 * @param alsoTold keys of other resources that tell of it too
 */
export function readPolyp(
  told: Told,
  examination: Examination,
  reading: Reading,
  alsoTold: readonly string[] = none,
): Lesion {
  const { resource, holder } = told
  const { codes, resources, survey } = reading
  const isOwn = holder === resource
  const specimen = referenceKey(resource.specimen)
  const own = isOwn ? ownKey(resource) : undefined
  const lesion: Lesion = {
    keys: own === undefined ? alsoTold : [own, ...alsoTold],
    specimen: isOwn ? specimen : undefined,
    resource,
    told,
    partOf: resource.partOf === undefined ? none : keysAt([resource], 'partOf'),
    sizes: [],
    isKnown: false,
    named: false,
    toolBy: undefined,
    disputed: none,
    evidence: examination.trail && [],
    // Polyps of one shape are what makes the criteria fast.
    polyp: {
      site: undefined,
      sizeMillimetres: undefined,
      sizeAtLeastMillimetres: undefined,
      sizeAtMostMillimetres: undefined,
      shape: undefined,
      handling: undefined,
      tool: undefined,
      resection: undefined,
      retrieval: undefined,
      tattooed: undefined,
      predictedHistology: undefined,
      sentForSurgery: undefined,
      removalAttempted: undefined,
      inaccessible: undefined,
      suspectedCancer: undefined,
      clearance: undefined,
      histology: undefined,
      dysplasia: undefined,
      villous: undefined,
    },
  }
  const pot = specimen === undefined ? undefined : resources.at(specimen)
  if (isOwn && resource.specimen !== undefined && pot === undefined) survey?.deadEnd('Observation.specimen', resource)
  const ofPot = asObject(pot?.collection)?.bodySite
  lesion.polyp.site = siteOf(resource.bodySite, reading)
  if (lesion.polyp.site !== undefined) {
    if (lesion.evidence) restsOn(lesion, 'site', told, `${String(resource.resourceType)}.bodySite`)
  } else if (pot !== undefined) {
    lesion.polyp.site = siteOf(ofPot, reading)
    if (lesion.evidence) restsOn(lesion, 'site', { ...told, resource: pot }, 'Specimen.collection.bodySite')
  }
  if (survey && lesion.polyp.site === undefined)
    for (const one of asObjects(resource.bodySite))
      survey.missed('Observation.bodySite (polyp)', one, examination.patient)
  // Some send the size as the polyp's own value; a bare number there is a number of polyps.
  const size = mayHoldSize(holder) ? millimetresOf(holder) : undefined
  if (size !== 'unreadable') takeSize(lesion, size, examination, told)
  if (!isOwn) return lesion
  for (const component of asObjects(resource.component)) {
    const code = codes.of(component.code)
    if (code.fact === undefined && code.sets.size === 0)
      survey?.missed('Observation.component.code (polyp)', component.code, examination.patient)
    else readComponent(lesion, componentOf(told, component, code), examination, reading)
  }
  return lesion
}

/** Whether a value is of a type in which a polyp's own observation may state its size. */
export const mayHoldSize = ({ valueQuantity, valueRange, valueString }: Json): boolean =>
  valueQuantity !== undefined || valueRange !== undefined || valueString !== undefined

function siteOf(bodySite: unknown, { codes }: Reading): Polyp['site'] {
  for (const one of asObjects(bodySite)) {
    const site = codes.word(one, 'bowel-site')
    if (isWord(site, bowelSites)) return site
  }
  return undefined
}

/** Facts of a polyp that a yes or no tells. */
type Question = 'tattooed' | 'sentForSurgery' | 'removalAttempted' | 'inaccessible' | 'suspectedCancer'

function readComponent(lesion: Lesion, told: Told, examination: Examination, reading: Reading): void {
  const { holder, code } = told
  if (code.sets.has('polyp-size')) {
    takeSize(lesion, millimetresOf(holder), examination, told)
    return
  }
  const settle = <Name extends keyof Polyp>(name: Name, values: readonly (Polyp[Name] & string)[], map?: string) =>
    state(lesion, name, wordOf('polyps', told, values, examination, reading, map), told, examination)
  const answer = (name: Question) =>
    state(lesion, name, yesOrNo('polyps', told, examination, reading), told, examination)
  switch (code.fact) {
    case 'known-lesion-seen-again':
      lesion.isKnown ||= yesOrNo('knownLesionCount', told, examination, reading) === true
      break
    case 'polyp-tattooed':
      answer('tattooed')
      break
    case 'polyp-handling':
      settle('handling', polypFields.handling.values)
      break
    case 'polyp-retrieval':
      settle('retrieval', polypFields.retrieval.values)
      break
    case 'polyp-shape':
      settle('shape', polypFields.shape.values)
      break
    case 'polyp-tool':
      settle('tool', polypFields.tool.values, 'polypectomy-tool')
      break
    case 'polyp-resection':
      settle('resection', polypFields.resection.values)
      break
    case 'predicted-histology':
      settle('predictedHistology', histologyClasses, 'histology')
      break
    case 'polyp-sent-for-surgery':
      answer('sentForSurgery')
      break
    case 'polyp-removal-attempted':
      answer('removalAttempted')
      break
    case 'polyp-inaccessible':
      answer('inaccessible')
      break
    case 'polyp-suspected-cancer':
      answer('suspectedCancer')
      break
    case 'polyp-clearance':
      settle('clearance', polypFields.clearance.values)
      break
    default:
      reading.survey?.missed('Observation.component.code (polyp)', holder.code, examination.patient)
  }
}

/** Takes down a fact of a polyp. Of two different words on one thing neither stands, whichever came first. */
function state<Name extends keyof Polyp>(
  lesion: Lesion,
  name: Name,
  value: Polyp[Name] | undefined,
  told: Told,
  { trail }: Examination,
): void {
  const { polyp, disputed } = lesion
  if (value === undefined) return
  if (lesion.evidence) restsOn(lesion, name, told, valueElementOf(told))
  if (disputed.includes(name) || polyp[name] === value) return
  if (polyp[name] === undefined) {
    polyp[name] = value
    return
  }
  polyp[name] = undefined
  lesion.disputed = [...disputed, name]
  trail?.contradict('two different values of one measurement', lesion.resource)
}

const sizeNames = ['sizeMillimetres', 'sizeAtLeastMillimetres', 'sizeAtMostMillimetres'] as const

/** Adds what is stated of a polyp's size; what stands there and cannot be read is taken down. */
export function takeSize(
  lesion: Lesion,
  size: StatedSize | 'unreadable' | undefined,
  { trail }: Examination,
  told: Told,
): void {
  if (size === 'unreadable') trail?.cannotRead('polyps', told.resource, valueElementOf(told))
  else if (size !== undefined) {
    lesion.sizes.push(size)
    if (lesion.evidence) for (const name of sizeNames) restsOn(lesion, name, told, valueElementOf(told))
  }
}
