import { asObjects } from '../fhir/json.ts'
import { type Meaning, unknownMeaning } from '../fhir/meaning.ts'
import { keysAt, ownKey } from '../fhir/references.ts'
import type { Polyp } from '../record/colonoscopy.ts'
import { polypFields } from '../record/findings.ts'
import { isWord } from '../record/words.ts'
import type { Examination } from './examinations.ts'
import { type Lesion, restsOn } from './polyp.ts'
import type { Reading, Told } from './reading.ts'
import { bySharedIdentifier } from './same-identifier.ts'

/**
 * Joins the lesions of an examination with the polypectomies and tattoos that name them, or that they name.
 *
 * Polypectomies that name none took first those polyps that were removed and that no polypectomy names, then, where there are
 * enough of them, all of which nothing is said.
 *
 * @returns polypectomies beyond the polyps that they could have taken
 */
export function joinProcedures(lesions: readonly Lesion[], examination: Examination, reading: Reading): number {
  const unnamed: Told[] = []
  for (const group of removalsAndTattoos(examination)) {
    const removals = group.filter(({ code }) => code.sets.has('polypectomy'))
    const named = group.flatMap((told) => namedBy(told, reading))
    const meant = lesions.filter((lesion) => group.some((told) => isOf(told, lesion, named)))
    const [removal] = removals
    if (removal && meant.length === 0) unnamed.push(removal)
    for (const lesion of meant) {
      const tattoo = group.find(({ code }) => code.sets.has('tattoo'))
      if (tattoo) {
        lesion.polyp.tattooed = true
        restsOn(lesion, 'tattooed', tattoo, 'Procedure.code')
      }
      if (removal === undefined) continue
      takeOut(lesion, removal)
      lesion.named = true
    }
    for (const told of removals) nameTool(meant, told, reading, examination.patient)
  }
  const [lone] = lesions
  const [only] = unnamed
  if (lone && only && lesions.length === 1 && unnamed.length === 1 && mayBeTaken(lone))
    nameTool([lone], only, reading, examination.patient)

  const removed = lesions.filter(({ polyp, named }) => polyp.handling === 'removed' && !named).length
  const left = Math.max(0, unnamed.length - removed)
  const open = lesions.filter(({ polyp }) => polyp.handling === undefined)
  if (left < open.length) return left
  for (const lesion of open) takeOut(lesion, unnamed[0])
  // Where no polyp is told at all, their number is the caller's to explain.
  if (lesions.length > 0)
    for (const { resource, rung } of unnamed.slice(unnamed.length - (left - open.length)))
      examination.trail?.note('polypCount', resource, rung, 'Procedure.code')
  return left - open.length
}

/** A polyp of which nothing else is said was removed by the polypectomy that took it. */
function takeOut(lesion: Lesion, removal: Told | undefined): void {
  if (lesion.polyp.handling !== undefined) return
  lesion.polyp.handling = 'removed'
  if (removal) restsOn(lesion, 'handling', removal, 'Procedure.code')
}

const mayBeTaken = ({ polyp, named }: Lesion): boolean =>
  !named && (polyp.handling === undefined || polyp.handling === 'removed')

/** Polypectomies and tattoos of an examination, those of one identifier together: one act, reported and billed. */
function removalsAndTattoos({ children, all }: Examination): readonly (readonly Told[])[] {
  const acts = children.filter(({ code }) => code.sets.has('polypectomy') || code.sets.has('tattoo'))
  if (acts.length < 2 || acts.every(({ resource }) => resource.identifier === undefined))
    return acts.map((one) => [one])
  const toldOf = new Map(acts.map((told) => [told.resource, told]))
  return bySharedIdentifier([...toldOf.keys()], all).map((group) => group.flatMap((one) => toldOf.get(one) ?? []))
}

/** Keys that a procedure gives as its reason, and of what it is part of. */
function namedBy({ resource }: Told, { resources, survey }: Reading): readonly string[] {
  const reasons = keysAt([resource], 'reasonReference')
  if (survey)
    for (const key of reasons)
      if (resources.at(key) === undefined) survey.deadEnd('Procedure.reasonReference', resource)
  return [...reasons, ...keysAt([resource], 'partOf')]
}

/** Whether a procedure names a lesion as its reason or as what it is part of, or is named by it as what it is part of. */
function isOf({ resource }: Told, { keys, partOf }: Lesion, named: readonly string[]): boolean {
  return keys.some((key) => named.includes(key)) || partOf.includes(ownKey(resource) ?? '')
}

/** A tool that a polyp's own component names goes before that of the polypectomy; two polypectomies with two tools name none. */
function nameTool(lesions: readonly Lesion[], told: Told, reading: Reading, patient: string): void {
  const found = toolOf(told, reading, patient)
  if (found === undefined) return
  const { tool, element } = found
  for (const lesion of lesions) {
    const { polyp, disputed } = lesion
    if (disputed.includes('tool')) continue
    if (polyp.tool === undefined) {
      polyp.tool = tool
      lesion.toolBy = told
      restsOn(lesion, 'tool', told, element)
    } else if (lesion.toolBy !== undefined && polyp.tool !== tool) {
      polyp.tool = undefined
      lesion.disputed = [...disputed, 'tool']
    }
  }
}

function toolOf(
  { resource, code }: Told,
  { codes, survey }: Reading,
  patient: string,
): { tool: Polyp['tool']; element: string } | undefined {
  const byCode = toolIn(code)
  if (byCode !== undefined) return { tool: byCode, element: 'Procedure.code' }
  for (const used of asObjects(resource.usedCode)) {
    const meaning = codes.of(used)
    const byDevice = toolIn(meaning)
    if (byDevice !== undefined) return { tool: byDevice, element: 'Procedure.usedCode' }
    if (meaning === unknownMeaning) survey?.missed('Procedure.usedCode (polypectomy)', used, undefined)
    if (codes.of(used) === unknownMeaning) survey?.missed('Procedure.usedCode (polypectomy)', used, patient)
  }
  return undefined
}

function toolIn({ words, fact }: Meaning): Polyp['tool'] {
  const word = words.get('polypectomy-tool') ?? fact
  return isWord(word, polypFields.tool.values) ? word : undefined
}
